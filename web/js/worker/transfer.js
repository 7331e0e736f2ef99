/** Answers leave a worker without being copied. */

/**
 * The buffers in an answer, whatever it is made of.
 * @param {unknown} value
 * @returns {ArrayBuffer[]}
 */
export function buffersOf(value) {
  /** @type {Set<ArrayBuffer>} */
  const found = new Set();
  gather(value, found);
  return [...found];
}

/**
 * @param {unknown} value
 * @param {Set<ArrayBuffer>} found
 */
function gather(value, found) {
  if (value instanceof ArrayBuffer) found.add(value);
  else if (ArrayBuffer.isView(value)) gather(value.buffer, found);
  else if (typeof value === "object" && value !== null) for (const part of Object.values(value)) gather(part, found);
}
