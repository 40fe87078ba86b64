// Keeps the page for when there is no network: what stands in this folder, under the name of this very page.
const FILES = ["./", "index.html", "holdfast.webmanifest", "icon.svg"];
addEventListener("install", event => event.waitUntil(caches.open(PAGE).then(cache => cache.addAll(FILES)).then(() => skipWaiting())));
addEventListener("activate", event =>
  event.waitUntil(caches.keys().then(names => Promise.all(names.filter(name => name.startsWith("holdfast-") && name !== PAGE).map(name => caches.delete(name))))));
addEventListener("fetch", event => event.respondWith(caches.match(event.request).then(found => found || fetch(event.request))));
