/** Which encoding a table is most likely wanted for. */

/**
 * A table is for footage, which is in a camera's encoding: that of the frame, else what most frames of the
 * reel are in, else what was chosen last. What is made for a screen needs no table.
 * @param {{ own: string, reel: string[], last: string | undefined, usual: string, screens: string[] }} of own: the
 *   frame's; usual: where nothing else says anything; screens: encodings of screens
 * @returns {string}
 */
export function footageEncoding({ own, reel, last, usual, screens }) {
  const isFootage = (/** @type {string} */ id) => !screens.includes(id);
  if (isFootage(own)) return own;
  const counts = new Map();
  for (const id of reel.filter(isFootage)) counts.set(id, (counts.get(id) ?? 0) + 1);
  const [most] = [...counts].sort((a, b) => b[1] - a[1]);
  return most?.[0] ?? last ?? usual;
}
