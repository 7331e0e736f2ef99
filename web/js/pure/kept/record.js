/**
 * The record of a session: what stands in the browser's store and in a session file. Every version
 * that was ever written is read: each is brought to the next one by a step of its own.
 */

/** @import { Doc, FrameId, StageSettings, View } from "../../../types.js" */
/** @import { Change } from "./changes.js" */

import { isRecord } from "./check.js";

export const RECORD_VERSION = 3;
/** The first version that says how many steps there are. */
const COUNTED = 2;

/**
 * @typedef {object} FrameRecord
 * @property {FrameId} id
 * @property {string} name
 * @property {string} [url]
 * @property {string} [credit]
 * @property {number} [bytes]
 * @property {import("../../../types.js").ClipFrames} [clip]
 * @property {import("../../../types.js").PictureInfo} [info]
 * @property {StageSettings} initial
 */

/**
 * @typedef {object} SessionRecord
 * @property {3} record the version of this record
 * @property {string} id
 * @property {number} changed when it was, in ms since 1970
 * @property {number} revision counts what was written
 * @property {FrameRecord[]} frames all that are on the reel or can come back to it
 * @property {Doc} base the oldest document of the history
 * @property {number} first the number of the first change after it
 * @property {number} steps how many changes there are
 * @property {number} position how many of them are done
 * @property {FrameId | null} current
 * @property {View} view
 * @property {boolean} instruments
 * @property {{ stage: import("../../../types.js").StageId, side: import("../../../types.js").SideName, chromaticity: boolean }} scopes what the instruments read; records before it had none
 * @property {string} [name] the look's, for lists
 * @property {Readonly<Record<string, unknown>>} attached what belongs to the work beside the document, by topic
 */

/** A session as it is read: the record and the changes after its base. @typedef {{ record: SessionRecord, changes: Change[] }} Kept */

/** @type {View} */
export const USUAL_VIEW = { wipe: 0.38, before: "intake", after: "screen", scale: "fit", centre: { x: 0.5, y: 0.5 } };

/**
 * Version 1 was the one slot of the first release: one document, no history.
 * @param {Record<string, unknown>} slot
 * @returns {Record<string, unknown>}
 */
function fromFirst(slot) {
  return {
    record: 2,
    id: slot["id"],
    changed: slot["changed"] ?? 0,
    revision: 0,
    frames: slot["reel"],
    base: slot["doc"],
    first: 1,
    steps: 0,
    position: 0,
    current: slot["current"],
    view: slot["view"],
    instruments: slot["instruments"],
  };
}

/**
 * Version 2 had nothing attached.
 * @param {Record<string, unknown>} older
 */
const fromSecond = (older) => ({ ...older, record: 3, attached: {} });

/** The step from each version to the next. @type {Record<number, (older: Record<string, unknown>) => Record<string, unknown>>} */
const MIGRATIONS = { 1: fromFirst, 2: fromSecond };

/**
 * @param {unknown} raw of any version
 * @param {unknown[]} rawChanges
 * @returns {Kept} rejects nothing that a default can stand for
 * @throws {Error} one sentence that says why it can't be read
 */
export function readRecord(raw, rawChanges) {
  if (!isRecord(raw)) throw new Error("its record is not there");
  /** @type {Record<string, unknown>} */
  let record = raw;
  let version = record["record"] ?? 1;
  if (typeof version !== "number" || version > RECORD_VERSION) throw new Error("it was written by a newer release of Lookwright");
  for (; version < RECORD_VERSION; version += 1) {
    const step = MIGRATIONS[version];
    if (!step) throw new Error(`its record says version ${version}, which never was`);
    record = step(record);
  }
  const { base, frames } = record;
  if (!isRecord(base) || !isRecord(base["look"])) throw new Error("its look is missing");
  if (!Array.isArray(frames)) throw new Error("its list of frames is missing");
  const good = frames.filter((frame) => isRecord(frame) && typeof frame["id"] === "string" && typeof frame["name"] === "string");
  if (good.length < frames.length) throw new Error(`${frames.length - good.length} of its ${frames.length} frames are damaged in its list`);
  const changes = rawChanges.filter(isRecord);
  if (changes.length < rawChanges.length || changes.length < (Number(record["steps"]) || 0)) throw new Error("a part of its history is missing");
  return {
    record: /** @type {SessionRecord} */ ({
      ...record,
      base: { ...base, delivery: base["delivery"] ?? {}, frames: base["frames"] ?? {} },
      frames: good.map((frame) => ({ ...frame, initial: isRecord(frame["initial"]) ? frame["initial"] : {} })),
      position: Number(record["position"]) || 0,
      revision: Number(record["revision"]) || 0,
      first: Number(record["first"]) || 1,
      changed: Number(record["changed"]) || 0,
      current: good.some(({ id }) => id === record["current"]) ? record["current"] : (good[0]?.["id"] ?? null),
      view: viewOf(record["view"]),
      instruments: record["instruments"] !== false,
      scopes: scopesOf(record["scopes"]),
      attached: isRecord(record["attached"]) ? record["attached"] : {},
    }),
    changes,
  };
}

const STAGES = ["intake", "lens", "negative", "scan", "print", "screen"];

/**
 * @param {unknown} view
 * @returns {View} the usual one in place of what makes no sense
 */
function viewOf(view) {
  if (!isRecord(view)) return USUAL_VIEW;
  const { wipe, before, after } = view;
  return {
    ...USUAL_VIEW,
    ...(typeof wipe === "number" && wipe >= 0 && wipe <= 1 ? { wipe } : {}),
    ...(STAGES.includes(String(before)) ? { before: /** @type {View["before"]} */ (before) } : {}),
    ...(STAGES.includes(String(after)) ? { after: /** @type {View["after"]} */ (after) } : {}),
  };
}

/**
 * @param {unknown} scopes
 * @returns {SessionRecord["scopes"]} the usual ones in place of what makes no sense
 */
function scopesOf(scopes) {
  const { stage, side, chromaticity } = isRecord(scopes) ? scopes : {};
  return { stage: STAGES.includes(String(stage)) ? /** @type {View["after"]} */ (stage) : "screen", side: side === "before" ? "before" : "after", chromaticity: chromaticity === true };
}

/**
 * Whether there is anything in it that a person made or brought.
 * @param {SessionRecord} record of any version; what can't be told counts as work
 */
export function hasWork({ record, steps, frames, attached }) {
  const known = record >= COUNTED && record <= RECORD_VERSION;
  return !known || steps > 0 || !Array.isArray(frames) || frames.some(({ url }) => !url) || Object.keys(attached ?? {}).length > 0;
}
