/** The versions that a person keeps while working: A to H, in the session. */

/** @import { Catalogue, LookData } from "../../types.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Version } from "../pure/looks/versions.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

import { hasColour } from "../pure/looks/choices.js";
import { differences, differencesSaid } from "../pure/looks/difference.js";
import { LETTERS, readVersions, sameVersion, withVersion, written } from "../pure/looks/versions.js";
import { attach } from "../session/attached.js";

/** @typedef {ReturnType<typeof createVersions>} Versions */

/** Where they stand in the session. */
const TOPIC = "versions";
const ALL_TAKEN = "Versions A to H are all taken; let one go in Compare (C) first.";

/** @param {{ catalogue: Catalogue, store: Store, edits: Edits, notices: Notices }} wiring */
export function createVersions({ catalogue, store, edits, notices }) {
  const all = () => readVersions(store.get().attached[TOPIC]);
  /** @param {readonly Version[]} kept */
  const put = (kept) => attach(store, TOPIC, kept.length > 0 ? written(kept) : undefined);

  /**
   * @param {LookData} [look] the present one by default
   * @returns {Version} the new one, or the one that it is already
   */
  function keep(look = store.get().history.present.look) {
    const same = sameVersion(catalogue, all(), look);
    if (same) return same;
    const next = withVersion(catalogue, all(), look, Date.now());
    if (!next) throw new Error(ALL_TAKEN);
    put(next.kept);
    return next.version;
  }

  /** @param {string} letter */
  function letGo(letter) {
    const gone = all().find((version) => version.letter === letter);
    put(all().filter((version) => version.letter !== letter));
    return () => {
      const taken = all().map((version) => version.letter);
      const free = taken.includes(letter) ? LETTERS.find((it) => !taken.includes(it)) : letter;
      if (!free) throw new Error(ALL_TAKEN);
      if (gone) put([...all(), { ...gone, letter: free }]);
      return free;
    };
  }

  return {
    all,
    keep,
    /** The version that is on, if it is one. */
    same: () => sameVersion(catalogue, all(), store.get().history.present.look),

    /** Keeps the present state, and says so. */
    keepNow() {
      const before = all();
      const { letter, name } = keep();
      const is = before.some((version) => version.letter === letter);
      if (is) return notices.say(`This is version ${letter} already.`, { topic: "version" });
      notices.say(`Kept as version ${letter}: ${name}.`, { topic: "version", fades: true, action: { label: "Undo", run: () => void letGo(letter) } });
    },

    /**
     * Goes back to a version; what is on now can be had again by undo.
     * @param {string} letter
     */
    goTo(letter) {
      const version = all().find((it) => it.letter === letter);
      if (!version) throw new Error(`There is no version ${letter} yet; N keeps one.`);
      const changes = differencesSaid(differences(catalogue, store.get().history.present.look, version.look).slice(0, 3));
      if (changes === "") return notices.say(`Version ${letter} is on.`, { topic: "version" });
      edits.setLook(version.look);
      notices.say(`Version ${letter} is on: ${changes}.`, { topic: "version", fades: true, action: { label: "Undo", run: edits.undo } });
    },

    /**
     * @param {string} letter
     * @returns {() => string} brings it back and gives its letter: another one if that was taken meanwhile; rejects with one
     *   sentence if all are
     */
    letGo,

    /** @returns {Choice[]} */
    choices: () =>
      all().map(({ letter, name, at, look }) => ({
        id: `version-${letter}`,
        kind: /** @type {const} */ ("version"),
        letter,
        name,
        what: `version, kept at ${new Date(at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}`,
        note: look.note ?? "",
        look,
        colour: hasColour(catalogue, look),
      })),
  };
}
