/** A look as the end of an address: `#look=` + base64url(deflate(canonical JSON)). */

const PREFIX = "#look=";
/** Longest text taken out of a link: a look is far shorter, whatever it unpacks from. */
const LONGEST = 100_000;
const BROKEN = "The link's look is damaged or cut short, so what is here stays as it is; ask for the link again.";

/**
 * @param {string} canonical JSON
 * @returns {Promise<string>} to stand behind the page's address
 */
export async function toLink(canonical) {
  const stream = new Blob([canonical]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  const letters = Array.from(bytes, (byte) => String.fromCharCode(byte)).join("");
  return PREFIX + btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/**
 * @param {string} hash of an address
 * @returns {Promise<string | null>} the look's JSON, null if the address has none; rejects with one
 *   sentence if it is broken
 */
export async function fromLink(hash) {
  if (!hash.startsWith(PREFIX)) return null;
  try {
    const letters = atob(packedText(hash).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
    return await unpack(new Blob([bytes]).stream());
  } catch {
    throw new Error(BROKEN);
  }
}

/**
 * What mail programs and trackers hang behind a link is not part of it: padding, parameters, the end
 * of a sentence.
 * @param {string} hash
 */
function packedText(hash) {
  const text = hash.slice(PREFIX.length).replace(/[&?#%=].*$/, "");
  return text.replace(/[)\]>.,;:!'"\u2019\u201d]+$/, "");
}

/** @param {ReadableStream<Uint8Array<ArrayBuffer>>} packed */
async function unpack(packed) {
  const reader = packed.pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let text = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return text + decoder.decode();
    text += decoder.decode(value, { stream: true });
    if (text.length > LONGEST) throw new Error("too long");
  }
}
