/* The field for finding: every word typed must stand in the page, as a beginning, as another name for it, or misspelt by a letter or two. */
(function () {
  "use strict";
  var input = document.getElementById("book-find"), list = document.getElementById("book-found");
  if (!input) return;
  var root = document.documentElement.dataset.root || ".", count = document.getElementById("book-found-count");
  var finder = null, loading = false, chosen = -1, hits = [];

  function load() {
    if (loading) return;
    loading = true;
    ["search-words.js", "search-index.js"].forEach(name => {
      var script = document.createElement("script");
      script.src = root + "/assets/" + name;
      script.async = false;
      script.onerror = () => { loading = false; show([], "The search index cannot be read. The lists of procedures and tables are complete."); };
      if (name === "search-index.js") script.onload = ready;
      document.head.append(script);
    });
  }
  function ready() {
    if (!fettlebook.finder) return;
    finder = fettlebook.finder(window.fettlebookIndex);
    fettlebook.search = text => finder.search(text).map(hit => hit.uri);
    if (input.value) find();
    finder.warmUp(() => !input.value);
  }

  function show(found, words) {
    hits = found;
    chosen = -1;
    list.replaceChildren(...found.map((hit, n) => {
      var link = document.createElement("a");
      link.href = root + "/" + hit.uri;
      link.id = "hit-" + n;
      link.setAttribute("role", "option");
      link.setAttribute("aria-selected", "false");
      link.tabIndex = -1;
      link.appendChild(document.createElement("strong")).textContent = hit.title;
      link.appendChild(document.createElement("small")).textContent = hit.why;
      return link;
    }));
    if (words) list.appendChild(document.createElement("p")).textContent = words;
    list.hidden = !(found.length || words);
    input.setAttribute("aria-expanded", String(!list.hidden));
    input.removeAttribute("aria-activedescendant");
    count.textContent = words || found.length + " found";
  }

  function find() {
    if (!finder) return load();
    if (!input.value.trim()) return show([], "");
    var found = finder.search(input.value);
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
})();
