/* The words of the book: which pages answer a question. Fetched with the index, when the reader first touches the field. */
fettlebook.finder = function (index) {
  "use strict";
  var pages = index.pages.split("\n"), read = {}, groups = {}, MOST = 20;
  var STOP = " a an and are as at be by for from in is it its of on or so than that the this to with my won t s when no not has gone get ";

  function folded(text) {
    if (/^[\x20-\x7e]*$/.test(text)) return text.toLowerCase();
    return text.replace(/(\d)([\u00bc-\u00be\u2150-\u215e])/g, "$1 $2").normalize("NFKD").replace(/\u2044/g, "/").replace(/\u00d7/g, "x")
      .replace(/\u2212/g, "-").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  }
  function tokens(text) { return folded(text).match(/[^\W_]+(?:[.\/-][^\W_]+)*|#\d[\w.\/-]*/g) || []; }

  function has(one, name) { return Object.prototype.hasOwnProperty.call(one, name); }

  /* The words with one first letter, and where each stands: taken apart when a question first needs them. */
  function group(letter) {
    if (!groups[letter]) {
      var written = has(index.words, letter) ? index.words[letter].split("\n") : [];
      groups[letter] = { words: written.length ? written[0].split(" ") : [], at: written.slice(1) };
    }
    return groups[letter];
  }
  /* Words that begin so: [word, where it stands]. */
  function starting(prefix) {
    var within = group(String.fromCodePoint(prefix.codePointAt(0))), words = within.words, found = [], low = 0, high = words.length;
    while (low < high) { var mid = (low + high) >> 1; if (words[mid] < prefix) low = mid + 1; else high = mid; }
    for (; low < words.length && words[low].startsWith(prefix); low++) found.push([words[low], within.at[low]]);
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
    return starting(word[0]).filter(known => apart(word, known[0], most) <= most && !/\d/.test(known[0]));
  }

  function stem(word) { return word.length > 4 && !/\d/.test(word) ? word.replace(/(?:ing|ed|es|s)$/, "") : word; }

  /* How well each page, by number, holds one of the words; 0: not at all. Returns whether there is a word. */
  var STRENGTH = [1, 6, 14, 30];
  function postings(words, weight, into) {
    words.forEach(found => {
      var at = found[1], much = weight(found[0]), place = 0, step = 0;
      for (var i = 0; i <= at.length; i++) {
        var sign = i < at.length ? at.charCodeAt(i) : 32;
        if (sign !== 32) { step = 36 * step + sign - (sign < 58 ? 48 : 87); continue; }
        place += step;
        step = 0;
        var score = much * STRENGTH[place & 3];
        if (into[place >> 2] < score) into[place >> 2] = score;
      }
    });
    return words.length > 0;
  }
  function none() { return new Float64Array(pages.length); }

  /* Pages that hold one of the words typed, with how well. */
  function pagesOf(word, names) {
    var found = none();
    var any = postings(starting(word), known => known === word ? 1.5 : 1 / (1 + (known.length - word.length) / 6), found);
    var root = stem(word);
    if (root !== word && root.length > 3) any = postings(starting(root), () => 0.7, found) || any;
    names.forEach(name => {
      var parts = name.split(" ");
      if (parts.length === 1) any = postings(starting(name), () => 0.8, found) || any;
      else any = intersect(parts.map(part => { var into = none(); postings(starting(part), () => 0.6, into); return into; }), found) || any;
    });
    if (!any) postings(near(word), () => 0.5, found);
    return found;
  }
  /* Into INTO what is in ALL, the least of each; whether there is any. */
  function intersect(all, into) {
    var any = false;
    for (var n = 0; n < into.length; n++) {
      var least = all[0][n];
      for (var i = 1; i < all.length && least; i++) if (all[i][n] < least) least = all[i][n];
      if (least) any = true;
      if (into[n] < least) into[n] = least;
    }
    return any;
  }

  /* Names of two words first (`silver steel`), so that they are replaced as a whole. */
  function units(words) {
    var found = [];
    for (var n = 0; n < words.length; n++) {
      var pair = n + 1 < words.length ? other(words[n] + " " + words[n + 1]) : [];
      if (pair.length) { found.push({ words: [words[n], words[n + 1]], names: pair }); n++; }
      else found.push({ words: [words[n]], names: otherOrStem(words[n]) });
    }
    return found;
  }
  function other(name) { return has(index.other, name) ? index.other[name] : []; }
  function otherOrStem(word) { var names = other(word); return names.length ? names : other(stem(word)); }

  function search(text) {
    var words = tokens(text), useful = words.filter(word => STOP.indexOf(" " + word + " ") < 0);
    if (useful.length) words = useful;
    if (!words.length) return [];
    var sets = units(words).map(unit => {
      var own = unit.words.map(word => pagesOf(word, unit.words.length === 1 ? unit.names : otherOrStem(word)));
      var found = none();
      intersect(own, found);
      if (unit.words.length > 1) {
        unit.names.forEach(name => { intersect(name.split(" ").map(part => pagesOf(part, [])), found); });
      }
      return found;
    });
    var wanted = wantedWords(words);
    return best(sets).map(hit => { var page = doc(hit.number); return { uri: page.uri, title: page.title, why: why(page, wanted) }; });
  }

  /* The best pages; those with the same score in the order of their titles, in which they are numbered. */
  function best(sets) {
    var held = new Uint16Array(pages.length), most = 0, found = [];
    for (var n = 0; n < pages.length; n++) {
      for (var i = 0; i < sets.length; i++) if (sets[i][n]) held[n]++;
      most = Math.max(most, held[n]);
    }
    var enough = Math.max(1, most - (sets.length > 2 ? 1 : 0));
    for (n = 0; n < pages.length; n++) {
      if (held[n] < enough) continue;
      var score = 0;
      for (i = 0; i < sets.length; i++) score += sets[i][n];
      score *= Math.pow(4, held[n] - most) * (pages[n].startsWith("procedure\t") ? 1.25 : 1);
      if (found.length === MOST && score <= found[MOST - 1].score) continue;
      var place = found.length;
      while (place && found[place - 1].score < score) place--;
      found.splice(place, 0, { number: n, score: score });
      if (found.length > MOST) found.pop();
    }
    return found;
  }

  /* What the index says of a page: its kind, address and title, and why it may be found, with the words for that. */
  function doc(number) {
    if (!read[number]) {
      var parts = pages[number].split("\t"), fields = [];
      for (var n = 3; n < parts.length; n += 2) fields.push({ why: parts[n], words: parts[n + 1], tokens: tokens(parts[n + 1]) });
      read[number] = { kind: parts[0], uri: parts[1], title: parts[2], tokens: tokens(parts[2]), fields: fields };
    }
    return read[number];
  }

  /* Why a page was found: the strongest of its fields that holds one of the words, its beginning or another name. */
  function why(page, wanted) {
    function holds(own) {
      return wanted.typed.filter(word => own.some(o => o.startsWith(word))).length * 2 +
        (wanted.any.some(word => own.some(o => o.startsWith(word))) ? 1 : 0);
    }
    var best = null, most = 0, title = holds(page.tokens);
    page.fields.forEach(field => { var n = holds(field.tokens); if (n > most) { most = n; best = field; } });
    if (title >= most && title > 0) return page.kind + ", in its title";
    return best ? page.kind + ", " + best.why + ": " + best.words : page.kind + ", in its text";
  }
  function wantedWords(words) {
    var any = [];
    units(words).forEach(unit => { unit.words.concat.apply(unit.words, unit.names.map(n => n.split(" "))).forEach(word => { any.push(word, stem(word)); }); });
    return { typed: words.map(stem), any: any };
  }

  /* A browser takes several times as long over its first questions as over later ones: some are asked WHILE nothing is typed. */
  function warmUp(free) {
    ["s", "a", "m", "t", "c", "b", "h", "p"].forEach((letter, n) => {
      window.setTimeout(() => { if (free()) search(letter + " " + letter + "aster " + letter + "ering"); }, 100 * (n + 1));
    });
  }

  return { search: search, warmUp: warmUp };
};
