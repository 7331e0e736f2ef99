/** The grey around the picture, which a picture is judged on: as it will be seen. Kept on this device. */

const KEPT = "lookwright.surround";

/** As it was chosen last. */
export function restoreSurround() {
  try {
    if (localStorage.getItem(KEPT) === "light") document.documentElement.dataset["surround"] = "light";
  } catch {
    // Then it is dark, as at first.
  }
}

export function turnSurround() {
  const { dataset } = document.documentElement;
  const light = !dataset["surround"];
  if (light) dataset["surround"] = "light";
  else delete dataset["surround"];
  try {
    if (light) localStorage.setItem(KEPT, "light");
    else localStorage.removeItem(KEPT);
  } catch {
    // Then it holds until the page is left.
  }
}
