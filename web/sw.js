/** Offline use: the network first, so that a new version is seen at once; else what was kept. */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const CACHE = "lookwright-2";

worker.addEventListener("install", () => {
  worker.skipWaiting();
});

worker.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
      await worker.clients.claim();
    })(),
  );
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || new URL(request.url).origin !== worker.location.origin) return;
  event.respondWith(answer(request, event));
});

worker.addEventListener("message", (event) => {
  /** @type {{ keep?: string[] }} */
  const { keep = [] } = event.data ?? {};
  event.waitUntil(keepAll(keep.filter((url) => new URL(url).origin === worker.location.origin)));
});

/**
 * @param {Request} request
 * @param {FetchEvent} event
 */
async function answer(request, event) {
  try {
    const response = await fetch(request);
    // Kept while the page goes on.
    if (response.status === 200) event.waitUntil(keep(request, response.clone()));
    return response;
  } catch (error) {
    const kept = await (await caches.open(CACHE)).match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw error;
  }
}

/**
 * Keeps a response, unless it is kept already: then its tag is the same.
 * @param {Request} request
 * @param {Response} response
 */
async function keep(request, response) {
  const cache = await caches.open(CACHE);
  const tag = response.headers.get("etag");
  const kept = tag && (await cache.match(request));
  if (!kept || kept.headers.get("etag") !== tag) await cache.put(request, response);
}

/** @param {string[]} urls */
async function keepAll(urls) {
  const cache = await caches.open(CACHE);
  for (const url of urls) {
    if (!(await cache.match(url))) await cache.add(url).catch(() => {});
  }
}
