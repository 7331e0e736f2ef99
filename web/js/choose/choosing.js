/** Choosing by looking: its actions, and the offer to choose once a photo is there. The sheets come when they are asked for. */

/** @import { Wiring } from "./sheets.js" */
/** @import { Actions } from "../ui/actions.js" */
/** @import { State } from "../../types.js" */

import { once } from "../once.js";
import { LETTERS } from "../pure/looks/versions.js";
import { find } from "../ui/dom.js";
import { createLetters } from "./letters.js";
import { createVersions } from "./versions.js";

/** @param {Omit<Wiring, "versions"> & { actions: Actions }} wiring */
export function createChoosing({ actions, ...wiring }) {
  const { store, notices } = wiring;
  let isBusy = () => false;
  const sheets = once(async () => {
    const made = (await import("./sheets.js")).createSheets({ ...wiring, versions });
    isBusy = () => made.batch.busy() || made.contact.busy();
    return made;
  });
  const there = (/** @type {State} */ { reel, current }) => reel.some(({ id, stage, info }) => id === current && stage === "ready" && info !== undefined);
  const versions = createVersions(wiring);
  const openWall = async () => {
    await wiring.player().pause();
    await (await sheets()).wall.open();
  };

  const openCompare = async () => {
    await wiring.player().pause();
    await (await sheets()).compare.open();
  };

  const openStrips = async () => {
    await wiring.player().pause();
    (await sheets()).strips.open();
  };

  /** @param {number} [chapter] from 0 */
  const openLesson = async (chapter) => {
    await wiring.player().pause();
    const { lesson } = await sheets();
    (await lesson()).open(chapter);
  };

  /** @param {number} [which] from 0 */
  const openShowing = async (which) => {
    await wiring.player().pause();
    const { showing } = await sheets();
    (await showing()).open(which);
  };

  const openStill = async () => {
    await wiring.player().pause();
    const { still } = await sheets();
    (await still()).open();
  };

  const openBatch = async () => {
    await wiring.player().pause();
    (await sheets()).batch.open();
  };

  actions.add(
    { id: "wall", label: "Choose a look", short: "Looks", group: "Look", key: "W", icon: "looks", place: "bar", also: "wall library browse gallery looks", enabled: there, run: openWall },
    { id: "keep-version", label: "Keep this version", group: "Look", key: "N", also: "new note snapshot save state version", run: versions.keepNow },
    { id: "compare", label: "Compare", group: "Look", key: "C", icon: "compare", place: "tools", also: "versions wipe side by side flicker difference blend room client before after", enabled: there, run: openCompare },
    { id: "strips", label: "Test strips", group: "Look", key: "T", also: "exposure steps bracket wedge ring around contact", enabled: there, run: openStrips },
    { id: "across", label: "Trims across the reel", group: "Frames", also: "copy apply match exposure light balance frames hero", enabled: there, run: async () => (await sheets()).across.open() },
    { id: "contact", label: "Contact sheet", group: "Frames", also: "print pdf overview proof page paper index reel looks", enabled: there, run: async () => (await wiring.player().pause(), (await sheets()).contact.open()) },
    { id: "lesson", label: "Lesson: the light path", group: "Page", also: "teach learn chapters course how it works print hand-out classroom", run: () => openLesson() },
    { id: "own-lesson", label: "Your own lesson", group: "Page", also: "teacher course order notes worksheet chapters edit", run: async () => (await (await sheets()).own()).open() },
    { id: "worksheet", label: "Worksheet with the probe", group: "Page", also: "teach questions exercise print answers classroom", enabled: there, run: async () => (await (await sheets()).worksheet()).open(null) },
    { id: "demonstrations", label: "Demonstrations, side by side", group: "Page", also: "teach show classroom halation push over-exposed under-exposed print straight density saturation", enabled: there, run: () => openShowing() },
    { id: "match-still", label: "Match a still", group: "Look", also: "reference picture like copy fit that frame", enabled: there, run: openStill },
    { id: "shelf", label: "Your looks", group: "Look", also: "shelf own saved keep duplicate order notes delete", run: async () => (await sheets()).shelf.open() },
    { id: "batch", label: "Save the reel", group: "Frames", key: "Shift+S", also: "batch export all frames folder zip", enabled: ({ reel }) => reel.length > 0, run: openBatch },
    ...LETTERS.map((letter) => ({
      id: `version-${letter}`,
      label: `Go to version ${letter}`,
      group: /** @type {const} */ ("Look"),
      key: `Shift+${letter}`,
      soughtOnly: true,
      enabled: () => versions.all().some((version) => version.letter === letter),
      run: () => versions.goTo(letter),
    })),
  );

  const letters = createLetters({ versions, onchoose: (letter) => actions.run(`version-${letter}`), onkeep: () => actions.run("keep-version") });
  find("#dock", HTMLElement).append(letters.el);
  store.subscribe(letters.update);
  letters.update(store.get());

  // Choosing is the first thing after a photo was brought.
  const offered = new Set(store.get().reel.map(({ id }) => id));
  store.subscribe(({ reel, current }) => {
    const frame = reel.find(({ id }) => id === current);
    if (!frame?.file || frame.stage !== "ready" || offered.has(frame.id)) return;
    for (const { id } of reel) offered.add(id);
    // Until that is read, what the wall is made of can come.
    sheets().then(({ library }) => library()).catch(() => {});
    notices.say("See it through every look, and choose.", { topic: "first", fades: true, action: { label: "Choose a look", run: () => void openWall().catch(notices.problem) } });
  });

  return {
    /** Whether a reel or a contact sheet is being saved. */
    busy: () => isBusy(),

    /** The lesson at one of its chapters. @param {number} chapter from 0 */
    openLesson,

    /** A demonstration. @param {number} which from 0 */
    openShowing,

    /** Opens a lesson's file. @param {File} file */
    takeLesson: async (file) => (await (await sheets()).own()).take(file),

    /** Puts the looks of a zip on one's own shelf, and shows it. @param {File} zip */
    keepLooks: async (zip) => (await sheets()).shelf.keepAll(zip),
  };
}
