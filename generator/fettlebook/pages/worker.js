/* One edition of the book in one store. A new edition is taken in whole and waits until the reader asks for it. Printed sheets and
   single files are taken in when they are first opened, or all together on request; never a file of another edition. */
(function () {
  "use strict";
  var book = self.BOOK, prefix = "fettlebook-" + book.site + "-", name = prefix + book.edition, here = new URL("./", self.location).href;
  var asked = here + "?sheets", uris = Object.keys(book.files), sheets = uris.filter(uri => book.later.some(start => uri.startsWith(start)));

  function belongs(answer, uri) {
    return answer.clone().arrayBuffer().then(bytes => crypto.subtle.digest("SHA-256", bytes))
      .then(digest => Array.from(new Uint8Array(digest), b => b.toString(16).padStart(2, "0")).join("") === book.files[uri]);
  }
  /* The same file, kept already with an earlier edition: an update takes in only what has changed. */
  function earlier(uri) {
    return caches.match(here + uri).then(kept => kept && belongs(kept, uri).then(same => same ? kept : null));
  }
  /* A file of this edition only: while a server is half way from one edition to the next, taking in stops and is tried again later. */
  function take(store, uri) {
    return earlier(uri).then(kept => kept || fetch(here + encodeURI(uri), { cache: "no-store" }).then(answer => {
      if (!answer.ok) throw new Error(uri + " answered " + answer.status);
      return belongs(answer, uri).then(same => {
        if (!same) throw new Error(uri + " belongs to another edition of the book");
        return answer;
      });
    })).then(answer => store.put(here + uri, answer.clone()).then(() => answer));
  }
  function takeAll(store, wanted, told) {
    var next = 0, done = 0;
    function hand() { return next < wanted.length ? take(store, wanted[next++]).then(() => { if (told) told(++done, wanted.length); return hand(); }) : null; }
    return Promise.all([hand(), hand(), hand(), hand()]);
  }

  self.addEventListener("install", event => {
    event.waitUntil(caches.match(asked).then(all => caches.open(name).then(store =>
      takeAll(store, uris.filter(uri => all || sheets.indexOf(uri) < 0)).then(() => all && store.put(asked, new Response("kept")))
    )).catch(fault => caches.delete(name).then(() => { throw fault; })));
  });
  self.addEventListener("activate", event => {
    event.waitUntil(caches.keys().then(names => Promise.all(names.filter(n => n !== name && n.startsWith(prefix)).map(n => caches.delete(n))))
      .then(() => self.clients.claim()));
  });

  /* The page asks how it stands with the printed sheets, has them kept, or changes to the new edition. */
  function sayHow(client) {
    return caches.open(name).then(store => store.match(asked)).then(kept => client.postMessage({ sheets: kept ? "kept" : "not kept", mb: Math.ceil(book.bytes / 1e6) }));
  }
  self.addEventListener("message", event => {
    if (event.data === "use the new edition") self.skipWaiting();
    if (event.data === "how are the sheets") event.waitUntil(sayHow(event.source));
    if (event.data === "keep the sheets") event.waitUntil(caches.open(name).then(store => store.keys().then(kept => {
      var there = kept.map(request => decodeURI(request.url));
      return takeAll(store, sheets.filter(uri => there.indexOf(here + uri) < 0), (n, of) => event.source.postMessage({ sheets: "coming", n: n, of: of }));
    }).then(() => store.put(asked, new Response("kept")))).then(() => sayHow(event.source), fault => event.source.postMessage({ sheets: "failed", why: fault.message })));
  });

  function missing(uri, fault) {
    return new Response("<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>Not on this device</title><h1>Not on this device</h1><p>"
      + uri.replace(/[<&]/g, "") + " is not kept here and cannot be fetched now (" + fault.message.replace(/[<&]/g, "") + ").</p><p>With the network, open it once, or keep all printed sheets from the front page.</p>",
      { status: 504, headers: { "Content-Type": "text/html; charset=utf-8" } });
  }
  self.addEventListener("fetch", event => {
    var url = new URL(event.request.url);
    if (event.request.method !== "GET" || !url.href.startsWith(here)) return;
    var uri = decodeURI(url.href.slice(here.length).split(/[?#]/)[0]) || "index.html";
    if (!Object.prototype.hasOwnProperty.call(book.files, uri)) return;
    event.respondWith(caches.open(name).then(store => store.match(here + uri).then(kept => kept || take(store, uri))).catch(fault => missing(uri, fault)));
  });
})();
