/** What a person sets: the look, the delivery, each frame, and their history. */

import type { StageId } from "./catalogue.js";

export type CurvePoints = [number, number][];

export type Value = number | boolean | string | CurvePoints;

/** Settings of one step that differ from its defaults; `on` and `amount` among them. */
export type StepSettings = Readonly<Record<string, Value>>;

/** Settings of one stage, by step. */
export type StageSettings = Readonly<Record<string, StepSettings>>;

/** A look as its file says it: defaults left out. */
export interface LookData {
  readonly lookwright: 3;
  readonly name?: string;
  readonly note?: string;
  readonly lens?: StageSettings;
  readonly negative?: StageSettings;
  readonly scan?: StageSettings;
  readonly print?: StageSettings;
}

export type FrameId = string;

/** All that undo and redo go through. */
export interface Doc {
  readonly look: LookData;
  readonly delivery: StageSettings;
  readonly frames: Readonly<Record<FrameId, StageSettings>>;
  /** Frames that were taken off the reel. They can come back. */
  readonly away?: readonly FrameId[];
  /** What the edit that led here did, in a few words. */
  readonly made?: string;
  /** Tells the entries of one history apart. */
  readonly step?: number;
}

export interface History {
  readonly past: readonly Doc[];
  readonly present: Doc;
  readonly future: readonly Doc[];
  /** Edits of the same gesture make one entry. */
  readonly gesture: string | null;
  /** The `step` of the newest entry that was ever made. */
  readonly serial: number;
}

/** Where a setting lives. */
export interface Place {
  stage: StageId;
  step: string;
  /** A control's id, `on` or `amount`. */
  control: string;
}
