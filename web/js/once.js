/** What is fetched when it is first wanted, and kept: if it could not be had, the next one who wants it tries again. */

/**
 * @template T
 * @param {() => Promise<T>} make
 * @returns {() => Promise<T>}
 */
export function once(make) {
  /** @type {Promise<T> | null} */
  let made = null;
  return () => {
    if (made) return made;
    const now = make();
    made = now;
    now.catch(() => {
      if (made === now) made = null;
    });
    return now;
  };
}
