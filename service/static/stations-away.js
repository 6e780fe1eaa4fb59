"use strict";
// Stands between the pages of stations and the network: when the network is away, a station page that is loaded
// again comes from what the page itself has put by (station-kept.js), and everything else fails as it would have.
const KEPT = "kingpost stations", PATIENCE_MS = 6000;

async function kept(request) {
  const found = await caches.open(KEPT);
  return found.match(new URL(request.url).pathname, { ignoreVary: true });
}

async function answer(request) {
  const own = await kept(request);
  if (!own) return fetch(request);
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    return fresh.status >= 500 ? own : fresh;
  } catch (error) {
    return own;
  }
}

self.addEventListener("install", function () { self.skipWaiting(); });
self.addEventListener("activate", function (event) { event.waitUntil(self.clients.claim()); });
self.addEventListener("fetch", function (event) {
  const path = new URL(event.request.url).pathname;
  const page = event.request.mode === "navigate" && /^\/staff\/stations\/\d+$/.test(path);
  if (event.request.method === "GET" && (page || path.startsWith("/static/"))) event.respondWith(answer(event.request));
});
