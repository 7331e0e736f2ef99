/** The one-file review: the built page with a review's words, pictures and data in it. */

/** @import { ReviewData } from "../../../types.js" */

import { escaped } from "./markup.js";

/**
 * JSON that no parser of HTML takes for its end.
 * @param {unknown} data
 */
const json = (data) => JSON.stringify(data).replace(/</g, "\\u003c");

/** @typedef {{ frame: number, kind: string, crop: boolean }} ShotPlace */

/**
 * What stands around the pictures, so that they can be put between as they are: one text before
 * each picture's address, and one after the last.
 * @param {string} page the built page
 * @param {ReviewData} review
 * @param {ShotPlace[]} shots by frame
 * @returns {string[]} throws one sentence if the page is none
 */
export function piecesOf(page, review, shots) {
  for (const place of ["@@title@@", "@@figures@@", "@@data@@"]) {
    if (!page.includes(place)) throw new Error("The review\u2019s page could not be loaded. Check the connection and try again.");
  }
  const filled = page.replace("@@title@@", () => escaped(review.title)).replace("@@data@@", () => json(review));
  const [head = "", tail = ""] = filled.split("@@figures@@");
  const pieces = [`${head}<h1>${escaped(review.title)}</h1>\n<noscript><p>To answer, open this file in a browser such as Chrome, Firefox or Safari.</p></noscript>\n`];
  review.frames.forEach((frame, index) => {
    add(`<figure>\n<figcaption>${escaped(frame.name)}</figcaption>\n`);
    for (const { kind, crop } of shots.filter((shot) => shot.frame === index)) {
      add(`<img data-frame="${index}" data-kind="${escaped(kind)}"${crop ? " data-crop" : ""} alt="${escaped(altOf(review, frame.name, kind, crop))}" src="`);
      pieces.push(`">\n`);
    }
    add("</figure>\n");
  });
  add(tail);
  return pieces;

  /** @param {string} text */
  function add(text) {
    pieces[pieces.length - 1] += text;
  }
}

/**
 * @param {ReviewData} review
 * @param {string} frame
 * @param {string} kind
 * @param {boolean} crop
 */
function altOf({ versions }, frame, kind, crop) {
  const version = versions.find(({ letter }) => letter === kind);
  const what = version ? `version ${kind}${version.name ? `, ${version.name}` : ""}` : "before the look";
  return `${frame}, ${what}${crop ? ", a part pixel by pixel" : ""}`;
}

/** Letters of base64 for so many bytes. @param {number} bytes */
export const base64Length = (bytes) => 4 * Math.ceil(bytes / 3);
