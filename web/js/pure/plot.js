/** Lines for small plots. */

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
    const y = (1 - (samples[i] ?? 0)) * height;
    path += `${i === 0 ? "M" : "L"}${x.toFixed(2)} ${y.toFixed(2)}`;
  }
  return path;
}

/**
 * How a small picture's codes are spread, as an area standing on the bottom line; by the square
 * root, so that rare codes are seen beside many.
 * @param {Uint8ClampedArray} rgba
 * @param {readonly number[]} channels that are counted: 0, 1, 2
 * @param {number} width
 * @param {number} height
 * @returns {string} a closed path
 */
export function spreadPath(rgba, channels, width, height) {
  const counts = new Float64Array(64);
  for (let i = 0; i < rgba.length; i += 4) {
    for (const channel of channels) {
      const bin = (rgba[i + channel] ?? 0) >> 2;
      counts[bin] = (counts[bin] ?? 0) + 1;
    }
  }
  const most = Math.max(1, ...counts);
  let path = `M0 ${height}`;
  counts.forEach((count, i) => {
    const y = height * (1 - 0.9 * Math.sqrt(count / most));
    path += `L${((i / 63) * width).toFixed(1)} ${y.toFixed(1)}`;
  });
  return `${path}L${width} ${height}Z`;
}
