/** Files of the page's own server, each fetched once although several ask for it at the same time. */

/** What is being fetched, or was a moment ago: whoever asks next gets the same. @type {Map<string, Promise<Blob>>} */
const fetched = new Map();

/** How long that is, in ms. */
const MOMENT = 10_000;

/**
 * @param {string} url
 * @returns {Promise<Blob>} rejects with one sentence
 */
export function fetchBlob(url) {
  const known = fetched.get(url);
  if (known) return known;
  const blob = fetchNow(url);
  fetched.set(url, blob);
  blob.then(
    () => setTimeout(() => fetched.delete(url), MOMENT),
    () => fetched.delete(url),
  );
  return blob;
}

/** @param {string} url */
async function fetchNow(url) {
  const response = await fetch(url).catch(() => null);
  if (!response?.ok) throw new Error(navigator.onLine ? "it could not be fetched; try again" : "it could not be fetched without a connection; try again when there is one");
  return response.blob();
}
