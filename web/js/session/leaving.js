/** Before the page is left: what would be lost is asked about. */

/**
 * @param {() => boolean} loses whether leaving now would lose something
 */
export function askBeforeLeaving(loses) {
  addEventListener("beforeunload", (event) => {
    if (loses()) event.preventDefault();
  });
}
