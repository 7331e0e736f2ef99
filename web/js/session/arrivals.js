/** Files that a person brings, sorted by what they are: frames, looks, tables, sessions. */

/** @import { Edits } from "./edits.js" */
/** @import { Store } from "./store.js" */
/** @import { DeskWork } from "../kept/desk-work.js" */
/** @import { Incoming } from "../look/incoming.js" */
/** @import { Frames } from "../reel/frames.js" */
/** @import { Notices } from "../ui/notices.js" */

import { reasonOf } from "../bridge/bridge.js";
import { NoSession } from "../kept/session-file.js";
import { holdsLesson } from "../pure/lesson-file.js";
import { holdsAnswer } from "../pure/review/marks.js";

/** Longest file that may be an answer. */
const ANSWER_BYTES = 2_000_000;
/** What tells a lesson stands at its beginning. */
const LESSON_HEAD = 200;

/**
 * @param {{ store: Store, frames: Frames, incoming: Incoming, deskWork: DeskWork, edits: Edits, notices: Notices,
 *   takeAnswer: (text: string) => Promise<void>, keepLooks: (zip: File) => Promise<void>, takeLesson: (file: File) => Promise<void> }} wiring
 *   keepLooks: puts the looks of a zip on one's own shelf
 */
export function createArrivals({ store, frames, incoming, deskWork, edits, notices, takeAnswer, keepLooks, takeLesson }) {
  /** A look's file, a lesson, or a client's answer. @param {File} file */
  async function takeJson(file) {
    if (holdsLesson(await file.slice(0, LESSON_HEAD).text())) return takeLesson(file);
    const text = file.size < ANSWER_BYTES ? await file.text() : "";
    if (holdsAnswer(text)) await takeAnswer(text);
    else await takeLook(file);
    return undefined;
  }

  /** A client's answer in a message. @param {File} file */
  async function takeMessage(file) {
    if (file.size > ANSWER_BYTES) throw new Error("This is too long for an answer.");
    await takeAnswer(await file.text());
  }

  /** A session, or looks. @param {File} file */
  async function takeZip(file) {
    try {
      await deskWork.takeIn(file);
    } catch (error) {
      if (!(error instanceof NoSession)) throw error;
      await keepLooks(file);
    }
  }

  /** @param {File} file */
  async function takeLook(file) {
    edits.setLook(await incoming.look(file));
    notices.say(`The look of ${file.name} is on; undo brings the one before back.`);
  }

  /**
   * @param {File} file
   * @returns {((file: File) => Promise<void>) | null} null if it is a frame, or wants to be one
   */
  function takerOf({ name }) {
    if (/\.json$/i.test(name)) return takeJson;
    if (/\.(txt|eml)$/i.test(name)) return takeMessage;
    if (/\.(cube|clf|csp|spi1d|spi3d|cdl|cc|ccc)$/i.test(name)) return incoming.table;
    if (/\.zip$/i.test(name)) return takeZip;
    return null;
  }

  /** @param {File[]} files in any order */
  return async function arrive(files) {
    frames.open(files.filter((file) => !takerOf(file)));
    for (const file of files) {
      try {
        await takerOf(file)?.(file);
      } catch (error) {
        store.set({ failures: [...store.get().failures, { name: file.name, reason: reasonOf(error) }] });
      }
    }
  };
}
