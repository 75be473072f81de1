// Keeps the page of the bench cards, so that it opens without network. What is on the cards is kept by the page itself.

const STORE = "longgrain-cards-1";
const PAGE = "/cards";

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys())
        if (name.startsWith("longgrain-cards") && name !== STORE) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

const own = (url) => url.origin === self.location.origin && !url.pathname.startsWith("/api/") && url.pathname !== "/healthz";

self.addEventListener("message", (event) => {
  if (!Array.isArray(event.data?.keep)) return;
  event.waitUntil(
    (async () => {
      const urls = [...new Set(event.data.keep)].filter((u) => own(new URL(u)));
      const cache = await caches.open(STORE);
      const have = new Set((await cache.keys()).map((r) => r.url));
      await cache.addAll(urls.filter((u) => !have.has(u) || !new URL(u).pathname.startsWith("/assets/")));
      // Files of an older build, which nothing asks for any more.
      for (const url of have)
        if (new URL(url).pathname.startsWith("/assets/") && !urls.includes(url)) await cache.delete(url);
    })(),
  );
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || !own(url)) return;
  event.respondWith(answer(event.request, url));
});

async function answer(request, url) {
  const cache = await caches.open(STORE);
  if (url.pathname.startsWith("/assets/")) {
    const kept = await cache.match(request);
    if (kept) return kept;
  }
  try {
    return await fetch(request);
  } catch (cause) {
    const kept = await cache.match(request.mode === "navigate" ? PAGE : request);
    if (kept) return kept;
    throw cause;
  }
}
