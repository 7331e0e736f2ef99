/** Polylines for small plots. */

/**
 * @param {ArrayLike<number>} samples evenly spaced over 0 ... 1, each 0 ... 1
 * @param {number} width
 * @param {number} height
 * @returns {string} a path with the origin at the bottom left
 */
export function linePath(samples, width, height) {
  const last = samples.length - 1;
  let path = "";
  for (let i = 0; i <= last; i += 1) {
    const x = (i / last) * width;
    const y = (1 - /** @type {number} */ (samples[i])) * height;
    path += `${i === 0 ? "M" : "L"}${x.toFixed(2)} ${y.toFixed(2)}`;
  }
  return path;
}
