/** What a camera wrote into a photo, in the JPEG that is made of it. */

import { carried, exifOf, withExif } from "../pure/save/exif.js";

/** As much of a photo's file as its notes mostly take, in bytes. */
const HEAD = 1 << 18;

/**
 * @param {Blob} original
 * @returns {Promise<Uint8Array | null>} null if it has none
 */
async function photoNotes(original) {
  return exifOf(new Uint8Array(await original.slice(0, HEAD).arrayBuffer()));
}

/**
 * @param {Blob} made a JPEG
 * @param {Blob} original
 * @param {{ place: boolean }} options place: whether where it was taken goes along
 */
export async function withNotes(made, original, { place }) {
  const notes = await photoNotes(original);
  const kept = notes && carried(notes, { place });
  // What can't be read is left out: it may say where the photo was taken.
  if (!kept) return made;
  return new Blob([withExif(new Uint8Array(await made.arrayBuffer()), kept)]);
}
