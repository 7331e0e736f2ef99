/**
 * Handing a file to the browser. Browsers don't say what becomes of it, so no more is said than
 * what is known, and it can be had once more.
 */

/** @import { Notices } from "../ui/notices.js" */

import { h } from "../ui/dom.js";

/** @typedef {ReturnType<typeof createDownload>} Download */

/** How long a file can be had again, in ms. */
const STAY = 120_000;

/** @param {Notices} notices */
export function createDownload(notices) {
  /**
   * @param {string} name
   * @param {BlobPart} content
   * @param {string} type
   * @param {string} [more] said after that it is handed over
   */
  return function download(name, content, type, more) {
    const url = URL.createObjectURL(new Blob([content], { type }));
    const hand = () => h("a", { href: url, download: name }).click();
    hand();
    setTimeout(() => URL.revokeObjectURL(url), STAY);
    notices.say(`${name} was handed to this browser, to be saved with its downloads.${more ? ` ${more}` : ""}`, { action: { label: "Save again", run: hand }, fades: true });
  };
}

/** @param {string} name */
export function fileStem(name) {
  const safe = name.trim().replace(/[\\/:*?"<>|\u0000-\u001f]+/g, "-");
  return [...safe].slice(0, 80).join("") || "look";
}
