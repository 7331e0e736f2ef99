/** The day, as it is written on what is made. */

/** @param {Date} date @returns {string} the day where the person is, as `2026-11-27` (ISO 8601) */
export function dayOf(date) {
  const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
