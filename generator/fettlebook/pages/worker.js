/* One edition of the book in one store. A new edition is taken in whole and waits until the reader asks for it. */
(function () {
  "use strict";
  var book = self.BOOK, name = "fettlebook-" + book.site + "-" + book.edition, here = new URL("./", self.location).href;

  function hex(buffer) {
    return Array.prototype.map.call(new Uint8Array(buffer), function (b) { return b.toString(16).padStart(2, "0"); }).join("");
  }
  /* A file of this edition only: while a server is half way from one edition to the next, taking in stops and is tried again later. */
  function take(store, uri) {
    return fetch(here + encodeURI(uri), { cache: "no-store" }).then(function (answer) {
      if (!answer.ok) throw new Error(uri + " answered " + answer.status);
      return answer.clone().arrayBuffer().then(function (bytes) { return crypto.subtle.digest("SHA-256", bytes); }).then(function (digest) {
        if (hex(digest) !== book.files[uri]) throw new Error(uri + " belongs to another edition");
        return store.put(here + uri, answer);
      });
    });
  }
  self.addEventListener("install", function (event) {
    event.waitUntil(caches.open(name).then(function (store) {
      var uris = Object.keys(book.files), next = 0;
      function worker() { return next < uris.length ? take(store, uris[next++]).then(worker) : null; }
      return Promise.all([worker(), worker(), worker(), worker()]);
    }).catch(function (fault) { return caches.delete(name).then(function () { throw fault; }); }));
  });
  self.addEventListener("activate", function (event) {
    event.waitUntil(caches.keys().then(function (names) {
      return Promise.all(names.filter(function (n) { return n !== name && n.indexOf("fettlebook-" + book.site + "-") === 0; }).map(function (n) { return caches.delete(n); }));
    }).then(function () { return self.clients.claim(); }));
  });
  self.addEventListener("message", function (event) { if (event.data === "use the new edition") self.skipWaiting(); });
  self.addEventListener("fetch", function (event) {
    var url = new URL(event.request.url);
    if (event.request.method !== "GET" || url.href.indexOf(here) !== 0) return;
    var uri = decodeURI(url.href.slice(here.length).split(/[?#]/)[0]) || "index.html";
    if (!book.files[uri]) return;
    event.respondWith(caches.open(name).then(function (store) { return store.match(here + uri); }).then(function (kept) { return kept || fetch(event.request); }));
  });
})();
