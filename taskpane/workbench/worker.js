// The page's own files, kept so that it opens without a network; it answers for nothing else.
const KEPT = "sparespan VERSION";
const FILES = ["./", "index.html", "mark.svg", "sparespan.webmanifest"];
const addresses = new Set(FILES.map((name) => new URL(name, registration.scope).href));

addEventListener("install", (event) => {
  event.waitUntil(caches.open(KEPT).then((kept) => kept.addAll(FILES)));
});

addEventListener("activate", (event) => {
  const old = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("sparespan ") && name !== KEPT) await caches.delete(name);
    }
  };
  event.waitUntil(old());
});

// The host is asked first, so that an update reaches everyone; what it does not answer comes from here.
addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  if (method !== "GET" || !addresses.has(url.replace(/[?#].*$/, ""))) return;
  const kept = () =>
    caches.open(KEPT).then((files) => files.match(event.request, { ignoreSearch: true }));
  event.respondWith(fetch(event.request).catch(kept));
});
