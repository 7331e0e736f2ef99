/** Makes the review: pictures are rendered once, written as often as their quality changes. */

/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Core, LookData, ReviewData, ReviewVersion } from "../../types.js" */
/** @import { Encoded, Format } from "./encode.js" */
/** @import { Rendered, Source } from "./shots.js" */

import { Superseded } from "../bridge/bridge.js";
import { pageFile } from "../page-file.js";
import { piecesOf } from "../pure/review/compose.js";
import { dataAddress, encodeAll } from "./encode.js";
import { renderShots, withCrops } from "./shots.js";

/** @typedef {{ title: string, from: string, to: string, note: string, mail: string }} Words */
/**
 * @typedef {object} Wish
 * @property {Source[]} sources
 * @property {{ letter: string, look: LookData, words: string }[]} looks
 * @property {Words} words
 * @property {number} side the pictures' longer side, in pixels
 * @property {Format} format
 * @property {number | null} quality null: the best that fits
 * @property {number} most bytes of the file, if the quality follows them
 * @property {{ x: number, y: number }} [middle] of what is there pixel by pixel, 0 ... 1
 */
/** @typedef {{ review: ReviewData, shots: Rendered[], pictures: Encoded, blob: Blob }} Made */
/** @typedef {ReturnType<typeof createMaker>} Maker */

/**
 * @param {{ core: Core, reader: () => Bridge, client: Client, ontell: (words: string) => void }} wiring
 */
export function createMaker({ core, reader, client, ontell }) {
  /** What is rendered already. @type {{ key: string, job: ReturnType<typeof renderShots> } | null} */
  let rendering = null;
  let newest = 0;

  /** @returns {Promise<{ versions: ReviewVersion[], model: number }>} */
  async function versionsOf(/** @type {Wish["looks"]} */ looks) {
    const read = await Promise.all(looks.map(({ look }) => client.readLook(JSON.stringify(look))));
    const versions = read.map(({ look, fingerprint }, i) => ({ letter: looks[i]?.letter ?? "A", name: look.name ?? "", words: looks[i]?.words ?? "", fingerprint, look }));
    return { versions, model: read[0]?.model ?? 0 };
  }

  /** @param {Wish} wish @param {ReviewVersion[]} versions */
  function rendered({ sources, side, middle }, versions) {
    const key = JSON.stringify([sources.map(({ id, number, settings }) => [id, number, settings]), versions.map(({ letter, fingerprint }) => [letter, fingerprint]), side, middle]);
    if (rendering?.key !== key) {
      rendering?.job.cancel(new Superseded());
      const job = renderShots({ core, sources, looks: versions, side, ...(middle ? { middle } : {}), tell: ({ done, total }) => ontell(`Rendering ${done} of ${total} pictures \u2026`) });
      rendering = { key, job };
      job.result.catch(() => {
        if (rendering?.job === job) rendering = null;
      });
    }
    return rendering.job.result;
  }

  return {
    /** What the review says, without pictures: for a link. @param {Wish} wish @param {{ made: Date, home: string, frames: ReviewData["frames"] }} more @returns {Promise<ReviewData>} */
    async data(wish, { made, home, frames }) {
      const { versions, model } = await versionsOf(wish.looks);
      return { lookwrightReview: 1, model, ...wish.words, made: made.toISOString(), home, versions, frames };
    },

    /**
     * @param {Wish} wish
     * @param {{ made: Date, home: string }} more
     * @returns {Promise<Made>} rejects with {@link Superseded} if another one was asked for meanwhile
     */
    async make(wish, more) {
      newest += 1;
      const number = newest;
      const live = () => number === newest;
      const page = fetch(pageFile("review/page.html")).then((answer) => answer.text(), () => "");
      const bare = await this.data(wish, { ...more, frames: wish.sources.map(({ name }) => ({ name })) });
      const { shots, crops } = await rendered(wish, bare.versions);
      if (!live()) throw new Superseded();
      const review = withCrops(bare, crops);
      const pieces = piecesOf(await page, review, shots);
      const around = new Blob(pieces).size + shots.length * "data:image/webp;base64,".length;
      ontell("Writing the pictures \u2026");
      const pictures = await encodeAll({ shots, format: wish.format, quality: wish.quality, most: wish.most, around, reader, live });
      if (!pictures || !live()) throw new Superseded();
      const addresses = await Promise.all(pictures.files.map(dataAddress));
      const parts = pieces.flatMap((piece, i) => [piece, addresses[i] ?? ""]);
      return { review, shots, pictures, blob: new Blob(parts, { type: "text/html" }) };
    },

    /** Nothing is wanted any more. */
    rest() {
      newest += 1;
      rendering?.job.cancel(new Superseded());
      rendering = null;
    },
  };
}
