/**
 * Offline use. Each release of the page is kept whole before any of it is used, and every page gets
 * all of its files from one release: a new one waits until the person takes it.
 */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** Written here when the page is built: tells a release by what is in it. */
const RELEASE = "unbuilt";
const PREFIX = "lookwright ";
const CACHE = PREFIX + RELEASE;

worker.addEventListener("install", (event) => event.waitUntil(keepAll()));

worker.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== CACHE && name.startsWith("lookwright")) await caches.delete(name);
      await worker.clients.claim();
    })(),
  );
});

worker.addEventListener("message", ({ data }) => {
  if (data === "take over") worker.skipWaiting();
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && new URL(request.url).origin === worker.location.origin) event.respondWith(answer(request));
});

/**
 * @param {Request} request
 * @returns {Promise<Response>}
 */
async function answer(request) {
  const cache = await caches.open(CACHE);
  const page = request.mode === "navigate" && new URL(request.url).pathname === new URL(worker.registration.scope).pathname;
  const kept = await cache.match(page ? "./" : request, { ignoreSearch: true });
  return kept ?? fetch(request);
}

/** Keeps every file of this release; if one can't be had, none is used. */
async function keepAll() {
  const fresh = /** @type {RequestInit} */ ({ cache: "no-cache" });
  const response = await fetch("files.json", fresh);
  /** @type {{ release: string, files: string[] }} */
  const { release, files } = await response.json();
  if (release !== RELEASE) throw new Error("the server is being brought to another release; this is tried again");
  const cache = await caches.open(CACHE);
  await cache.addAll(["./", "files.json", ...files].map((file) => new Request(file, fresh)));
}
