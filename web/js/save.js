/** Saving: the picture, a table, the look and its link. */

/** @import { FrameId, Recipe } from "../types.js" */
/** @import { Asks } from "./asks.js" */
/** @import { Bridge } from "./bridge.js" */
/** @import { Store } from "./store.js" */
/** @import { Notices } from "./ui/notices.js" */

import { h } from "./dom.js";
import { recipeOf } from "./recipe.js";

/** @typedef {ReturnType<typeof createSave>} Save */

/**
 * @param {{ store: Store, picture: Bridge, errands: Bridge, asks: Asks, notices: Notices }} wiring
 */
export function createSave({ store, picture, errands, asks, notices }) {
  /** @returns {{ id: FrameId, name: string, recipe: Recipe }} */
  function current() {
    const { reel, current: id, history } = store.get();
    const frame = reel.find((it) => it.id === id);
    if (!frame) throw new Error("There is no frame yet; open a picture first.");
    return { id: frame.id, name: frame.name, recipe: recipeOf(history.present, frame.id) };
  }

  const look = () => store.get().history.present.look;
  const stem = () => fileStem(look().name ?? "look");

  return {
    /** @param {{ format: string, quality: number }} options */
    async picture({ format, quality }) {
      const { id, name, recipe } = current();
      notices.say(`Saving ${name} with the look at full size \u2026`);
      const { bytes, extension, media } = await picture.ask("savePicture", { id, recipe, format, quality });
      const file = `${fileStem(name.replace(/\.[^.]+$/, ""))} - ${stem()}.${extension}`;
      download(file, bytes, media);
      notices.say(`${file} is saved.`);
    },

    /** @param {{ encoding: string, grid: number }} options */
    async table({ encoding, grid }) {
      const { look: json, delivery } = recipeOf(store.get().history.present, "");
      const text = await errands.ask("saveTable", { look: json, delivery, encoding, grid });
      const file = `${stem()} - ${encoding} - ${grid}.cube`;
      download(file, text, "text/plain");
      notices.say(`${file} is saved. It carries colour and tone; what the texture steps do is not in it.`);
    },

    async look() {
      const { pretty } = await asks.readLook(JSON.stringify(look()));
      const file = `${stem()}.look.json`;
      download(file, pretty, "application/json");
      notices.say(`${file} is saved.`);
    },

    /** @param {string} link */
    async link(link) {
      await navigator.clipboard.writeText(new URL(link, location.href).href);
      notices.say("The link is copied; whoever opens it gets this look.");
    },

  };
}

/**
 * @param {string} file
 * @param {BlobPart} content
 * @param {string} type
 */
function download(file, content, type) {
  const url = URL.createObjectURL(new Blob([content], { type }));
  h("a", { href: url, download: file }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** @param {string} name */
function fileStem(name) {
  return name.trim().replace(/[\\/:*?"<>|\u0000-\u001f]+/g, "-").slice(0, 80) || "look";
}
