"use strict";
// Puts by this station's page without any name, its scripts and its style, so that it can be loaded again while the
// network is away.  A browser allows that over https and on the machine itself; elsewhere the page has to stay open.
(function () {
  const form = document.getElementById("reading"), KEPT = "kingpost stations";
  if (!form || !window.caches || !navigator.serviceWorker) return;

  async function putBy() {
    const place = await caches.open(KEPT);
    if (form.dataset.closed) { await place.delete(form.dataset.page); return; }
    const page = await fetch(form.dataset.page + "?away=1");
    if (!page.ok || page.redirected) return;
    await place.put(form.dataset.page, page);
    const parts = document.querySelectorAll("link[rel=stylesheet], script[src], link[rel=icon]");
    await place.addAll(Array.from(parts, function (part) { return new URL(part.src || part.href).pathname; }));
    await navigator.serviceWorker.register(form.dataset.away);
    document.documentElement.dataset.kept = "yes";
  }

  document.getElementById("close").addEventListener("submit", async function (event) {
    event.preventDefault();
    await caches.open(KEPT).then(function (place) { return place.delete(form.dataset.page); }).catch(function () {});
    event.target.submit();
  });
  window.addEventListener("load", function () { putBy().catch(function () {}); });
})();
