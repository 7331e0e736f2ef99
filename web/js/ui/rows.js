/** A list that is made anew whenever something changes, without taking the focus from whoever is going through it. */

/**
 * @param {HTMLElement} list
 * @param {HTMLElement[]} rows in place of those that are there; what had the focus has it again if it stands where it stood
 */
export function replaceRows(list, rows) {
  const controls = () => [...list.querySelectorAll("input, button")];
  const at = document.activeElement ? controls().indexOf(document.activeElement) : -1;
  list.replaceChildren(...rows);
  const again = controls()[at];
  if (again instanceof HTMLElement) again.focus({ preventScroll: true });
}
