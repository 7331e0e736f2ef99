/** Pictures, clips, looks, tables and sessions come in by dropping, pasting and picking. */

import { holdsAnswer } from "../pure/review/marks.js";
import { h } from "../ui/dom.js";

/** Endings of looks and tables. */
const OTHERS = ["zip", "json", "txt", "cube", "clf", "csp", "spi1d", "spi3d", "cc", "ccc", "cdl"];

/**
 * @param {(files: File[]) => void} onfiles
 * @param {string[]} endings of pictures
 * @returns {{ pick: () => void, photograph: () => void }}
 */
export function acceptFiles(onfiles, endings) {
  const input = h("input", {
    type: "file",
    id: "picker",
    multiple: true,
    hidden: true,
    accept: ["image/*", "video/*", ...[...endings, ...OTHERS].map((ending) => `.${ending}`)].join(","),
    "aria-label": "Pictures, clips, looks, tables or a session",
    onchange() {
      onfiles([...(input.files ?? [])]);
      input.value = "";
    },
  });
  const camera = h("input", {
    type: "file",
    hidden: true,
    accept: "image/*",
    capture: "environment",
    "aria-label": "A photo from the camera",
    onchange() {
      onfiles([...(camera.files ?? [])]);
      camera.value = "";
    },
  });
  const veil = h("div", { class: "drop-veil", hidden: true }, h("p", {}, "Drop frames, clips, looks, a table or a session"));
  document.body.append(input, camera, veil);

  /** @param {DragEvent} event */
  const carriesFiles = (event) => event.dataTransfer?.types.includes("Files") ?? false;

  addEventListener("dragover", (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    veil.hidden = false;
  });
  addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) veil.hidden = true;
  });
  addEventListener("drop", (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    veil.hidden = true;
    onfiles([...(event.dataTransfer?.files ?? [])]);
  });
  addEventListener("paste", (event) => {
    const files = [...(event.clipboardData?.files ?? [])];
    if (files.length > 0) return onfiles(files);
    const text = event.clipboardData?.getData("text/plain") ?? "";
    const field = event.target instanceof Element && event.target.closest("input, textarea");
    if (!field && holdsAnswer(text)) onfiles([new File([text], "answer.txt", { type: "text/plain" })]);
  });

  return { pick: () => input.click(), photograph: () => camera.click() };
}
