/* Find: every word typed must stand in the page, as a beginning, as another name for it, or misspelt by a letter or two. */
(function () {
  "use strict";
  var input = document.getElementById("book-find"), list = document.getElementById("book-found");
  if (!input) return;
  var root = document.documentElement.dataset.root || ".", count = document.getElementById("book-found-count");
  var index = null, vocabulary = [], loading = false, chosen = -1, hits = [];
  var STOP = " a an and are as at be by for from in is it its of on or so than that the this to with my won t s when no not has gone get ";

  function load() {
    if (index || loading) return;
    loading = true;
    var script = document.createElement("script");
    script.src = root + "/assets/search-index.js";
    script.onload = () => {
      index = window.fettlebookIndex;
      vocabulary = Object.keys(index.words).sort();
      if (input.value) find();
    };
    script.onerror = () => { loading = false; show([], "The search index cannot be read. The lists of procedures and tables are complete."); };
    document.head.append(script);
  }

  function folded(text) {
    return text.replace(/(\d)([\u00bc-\u00be\u2150-\u215e])/g, "$1 $2").normalize("NFKD").replace(/\u2044/g, "/").replace(/\u00d7/g, "x")
      .replace(/\u2212/g, "-").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  }
  function tokens(text) { return folded(text).match(/[^\W_]+(?:[.\/-][^\W_]+)*|#\d[\w.\/-]*/g) || []; }

  function from(prefix) {
    var low = 0, high = vocabulary.length;
    while (low < high) { var mid = (low + high) >> 1; if (vocabulary[mid] < prefix) low = mid + 1; else high = mid; }
    return low;
  }
  function starting(prefix) {
    var found = [];
    for (var n = from(prefix); n < vocabulary.length && vocabulary[n].indexOf(prefix) === 0; n++) found.push(vocabulary[n]);
    return found;
  }

  /* Letters changed, added, left out or swapped between two words, given up beyond `most`. */
  function apart(a, b, most) {
    if (Math.abs(a.length - b.length) > most) return most + 1;
    var before = [], row = [], next;
    for (var j = 0; j <= b.length; j++) row[j] = j;
    for (var i = 1; i <= a.length; i++) {
      next = [i];
      var least = i;
      for (j = 1; j <= b.length; j++) {
        next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) next[j] = Math.min(next[j], before[j - 2] + 1);
        if (next[j] < least) least = next[j];
      }
      if (least > most) return most + 1;
      before = row; row = next;
    }
    return row[b.length];
  }
  function near(word) {
    if (word.length < 4 || /\d/.test(word)) return [];
    var most = word.length > 7 ? 2 : 1;
    return vocabulary.filter(known => !/\d/.test(known) && known[0] === word[0] && apart(word, known, most) <= most);
  }

  function stem(word) { return word.length > 4 && !/\d/.test(word) ? word.replace(/(?:ing|ed|es|s)$/, "") : word; }

  function postings(words, weight, into) {
    words.forEach(word => {
      var at = 0;
      index.words[word].split(" ").forEach(step => {
        at += parseInt(step, 36);
        var doc = at >> 2, score = weight(word) * [1, 6, 14, 30][at & 3];
        if (!into[doc] || into[doc] < score) into[doc] = score;
      });
    });
  }

  /* Pages that hold one of the words typed, with how well. */
  function pagesOf(word, names) {
    var found = {};
    postings(starting(word), known => known === word ? 1.5 : 1 / (1 + (known.length - word.length) / 6), found);
    var root = stem(word);
    if (root !== word && root.length > 3) postings(starting(root), () => 0.7, found);
    names.forEach(name => {
      var parts = name.split(" ");
      if (parts.length === 1) postings(starting(name), () => 0.8, found);
      else intersect(parts.map(part => { var into = {}; postings(starting(part), () => 0.6, into); return into; }), found);
    });
    if (!Object.keys(found).length) postings(near(word), () => 0.5, found);
    return found;
  }
  function intersect(all, into) {
    Object.keys(all[0]).forEach(doc => {
      if (all.every(one => one[doc])) into[doc] = Math.max(into[doc] || 0, Math.min.apply(null, all.map(one => one[doc])));
    });
  }

  /* Names of two words first (`silver steel`), so that they are replaced as a whole. */
  function units(words) {
    var found = [];
    for (var n = 0; n < words.length; n++) {
      var pair = words[n] + " " + words[n + 1];
      if (n + 1 < words.length && index.other[pair]) { found.push({ words: [words[n], words[n + 1]], names: index.other[pair] }); n++; }
      else found.push({ words: [words[n]], names: index.other[words[n]] || index.other[stem(words[n])] || [] });
    }
    return found;
  }

  function search(text) {
    var words = tokens(text), useful = words.filter(word => STOP.indexOf(" " + word + " ") < 0);
    if (useful.length) words = useful;
    if (!words.length) return [];
    var sets = units(words).map(unit => {
      var own = unit.words.map(word => pagesOf(word, unit.words.length === 1 ? unit.names : (index.other[word] || index.other[stem(word)] || [])));
      var found = {};
      intersect(own, found);
      if (unit.words.length > 1) {
        unit.names.forEach(name => { intersect(name.split(" ").map(part => pagesOf(part, [])), found); });
      }
      return found;
    });
    var scores = {}, held = {};
    sets.forEach(set => {
      Object.keys(set).forEach(doc => { scores[doc] = (scores[doc] || 0) + set[doc]; held[doc] = (held[doc] || 0) + 1; });
    });
    var most = Math.max.apply(null, [0].concat(Object.keys(held).map(doc => held[doc])));
    var enough = Math.max(most, 1);
    return Object.keys(scores).filter(doc => held[doc] >= Math.max(1, enough - (sets.length > 2 ? 1 : 0)))
      .map(doc => ({ doc: index.docs[doc], score: scores[doc] * Math.pow(4, held[doc] - enough) * (index.docs[doc][2] === "procedure" ? 1.25 : 1), words: words }))
      .sort((a, b) => b.score - a.score || (a.doc[1] < b.doc[1] ? -1 : 1)).slice(0, 20);
  }

  /* Why a page was found: the strongest of its fields that holds one of the words, its beginning or another name. */
  function why(hit) {
    var wanted = [];
    units(hit.words).forEach(unit => { unit.words.concat.apply(unit.words, unit.names.map(n => n.split(" "))).forEach(word => { wanted.push(word, stem(word)); }); });
    function holds(words) {
      var own = tokens(words);
      return hit.words.filter(word => own.some(o => o.indexOf(stem(word)) === 0)).length * 2 +
        (wanted.some(word => own.some(o => o.indexOf(word) === 0)) ? 1 : 0);
    }
    var best = null, most = 0;
    hit.doc[3].forEach(field => { var n = holds(field[1]); if (n > most) { most = n; best = field; } });
    if (holds(hit.doc[1]) >= most && holds(hit.doc[1]) > 0) return hit.doc[2] + ", in its title";
    return best ? hit.doc[2] + ", " + best[0] + ": " + best[1] : hit.doc[2] + ", in its text";
  }

  function show(found, words) {
    hits = found;
    chosen = -1;
    list.textContent = "";
    found.forEach((hit, n) => {
      var link = document.createElement("a");
      link.href = root + "/" + hit.doc[0];
      link.id = "hit-" + n;
      link.setAttribute("role", "option");
      link.setAttribute("aria-selected", "false");
      link.tabIndex = -1;
      link.appendChild(document.createElement("strong")).textContent = hit.doc[1];
      link.appendChild(document.createElement("small")).textContent = why(hit);
      list.append(link);
    });
    if (words) list.appendChild(document.createElement("p")).textContent = words;
    list.hidden = !(found.length || words);
    input.setAttribute("aria-expanded", String(!list.hidden));
    input.removeAttribute("aria-activedescendant");
    count.textContent = words || found.length + " found";
  }

  function find() {
    if (!index) return load();
    if (!input.value.trim()) return show([], "");
    var found = search(input.value);
    show(found, found.length ? "" : "Nothing found. Try one word of what you see or hold, or look through Symptoms.");
  }

  function choose(step) {
    if (!hits.length) return;
    if (list.children[chosen]) list.children[chosen].setAttribute("aria-selected", "false");
    chosen = (chosen + step + hits.length) % hits.length;
    list.children[chosen].setAttribute("aria-selected", "true");
    list.children[chosen].scrollIntoView({ block: "nearest" });
    input.setAttribute("aria-activedescendant", "hit-" + chosen);
  }

  input.addEventListener("focus", load);
  input.addEventListener("input", find);
  input.form.addEventListener("submit", event => {
    event.preventDefault();
    if (hits.length) location.href = list.children[Math.max(chosen, 0)].href;
  });
  input.addEventListener("keydown", event => {
    if (event.key === "ArrowDown") choose(1);
    else if (event.key === "ArrowUp") choose(-1);
    else if (event.key === "Escape") { input.value = ""; show([], ""); }
    else return;
    event.preventDefault();
  });
  document.addEventListener("keydown", event => {
    if (event.key === "/" && !/^(?:INPUT|TEXTAREA|SELECT)$/.test(document.activeElement.tagName)) { event.preventDefault(); input.focus(); }
  });
  document.addEventListener("click", event => { if (!event.target.closest(".find")) { list.hidden = true; input.setAttribute("aria-expanded", "false"); } });
  fettlebook.search = text => search(text).map(hit => hit.doc[0]);
})();
