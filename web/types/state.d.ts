/** What the page knows: its one state, and the reel in it. */

import type { Catalogue, StageId } from "./catalogue.js";
import type { FrameId, History, LookData, StageSettings } from "./look.js";
import type { SideName, TraceRow } from "./picture.js";

/** A control, a step or a whole stage that is left out. Without a step's name the stage is, without a
 * control's the step. */
export interface Without {
  stage: StageId;
  step?: string;
  control?: string;
}

/** A place that is read for as long as it is pinned, in picture pixels. */
export interface Pin {
  readonly x: number;
  readonly y: number;
}

/** A pin's numbers at every stage. */
export type Pinned = readonly TraceRow[];

export interface Suggestion {
  encoding: string;
  reason: string;
  /** Whether there is nothing to ask about. */
  sure: boolean;
  legal: boolean;
}

/** What the core says of an opened picture. */
export interface PictureInfo {
  width: number;
  height: number;
  /** `16-bit TIFF` and the like. */
  format: string;
  notes: string[];
  suggestion: Suggestion;
}

/**
 * How far a frame is. `named`: it waits its turn; `opening`: it is being read; `ready`: it can be
 * worked on; `failed`: it could not be read, and `reason` says why.
 */
export type FrameStage = "named" | "opening" | "ready" | "failed";

/**
 * Whether the original would survive a reload. `demo`: the page itself has it; `waiting`: it is
 * being written; `yes`: it is committed; `no`: it is not, and `keptWhy` says why.
 */
export type FrameKept = "demo" | "waiting" | "yes" | "no";

/** One picture of the reel. */
export interface ReelFrame {
  id: FrameId;
  name: string;
  stage: FrameStage;
  /** Why it failed. */
  reason?: string | undefined;
  kept: FrameKept;
  keptWhy?: string | undefined;
  /** Where its file comes from when it is not kept: a demo frame's address. */
  url?: string;
  /** The person's own file, until a copy of it is kept. */
  file?: Blob;
  /** Its length. */
  bytes?: number;
  info?: PictureInfo;
  /** Settings it was opened with. */
  initial: StageSettings;
  credit?: string;
  /** If it is a frame of a clip. */
  clip?: ClipFrames;
}

declare global {
  /** Known to modules that have no browser, too. */
  interface Blob {
    readonly size: number;
  }
  interface File extends Blob {
    readonly name: string;
  }
}

/** A clip of the reel, and which of its frames is looked at. */
export interface ClipFrames {
  /** Frames per second. */
  rate: number;
  frames: number;
  /** Counted from 0. */
  number: number;
}

/** A loupe over the picture: it shows the file's own pixels about one. */
export interface Loupe {
  /** The file's pixel in its middle. */
  x: number;
  y: number;
  /** Device pixels for one of the file, each way. */
  zoom: 1 | 2 | 4;
  /** Which side was pointed at where they stand above each other; by the wipe else. */
  side: SideName | null;
  /** Whether a finger holds it, which would hide what lies under it. */
  finger: boolean;
}

/** What is on the picture pane. */
export interface View {
  /** Where the wipe stands, 0 ... 1 of the picture's width. */
  wipe: number;
  /** Which stage each side of the wipe shows. */
  before: StageId;
  after: StageId;
  /** CSS pixels per picture pixel, or `fit`. */
  scale: number | "fit";
  /** The picture's point in the middle of the pane, 0 ... 1. */
  centre: { x: number; y: number };
}

/** A look that came by a link: it stands beside one's own. */
export interface Received {
  look: LookData;
  /** While both are on the picture, one on each side of the wipe. */
  comparing: boolean;
}

/** A file that could not be opened; told until it is put away. */
export interface Failure {
  name: string;
  reason: string;
  file?: File;
}

export interface Notice {
  id: number;
  text: string;
  tone: "plain" | "problem";
  /** Whether it goes by itself. */
  passes: boolean;
  /** A newer notice on the same topic takes its place. */
  topic?: string;
  action?: { label: string; run: () => void };
}

export interface State {
  readonly catalogue: Catalogue | null;
  readonly history: History;
  readonly reel: readonly ReelFrame[];
  readonly current: FrameId | null;
  readonly openStage: StageId | null;
  /** `stage.step` of every unfolded step. */
  readonly openSteps: readonly string[];
  readonly view: View;
  readonly instruments: boolean;
  /** What the panel holds; where there is room the frames have a place of their own. */
  readonly panel: "controls" | "frames" | "instruments" | "history";
  /** Nothing but the picture is shown. */
  readonly bare: boolean;
  /** On a phone: one control at a time. */
  readonly single: boolean;
  /** What is left out of the picture as long as its label is held. */
  readonly without: Without | null;
  /** Whether the sides of the wipe say what they show. */
  readonly sides: boolean;
  /** A control is being dragged: coarse pictures will do. */
  readonly dragging: boolean;
  /** Whether a clip plays, or is being gone through: what is shown then is not the held picture. */
  readonly moving: "no" | "playing" | "scrubbing";
  /** The picture point under the pixel trace, in picture pixels. */
  readonly tracePoint: { x: number; y: number } | null;
  /** What it is at every stage. */
  readonly trace: readonly TraceRow[] | null;
  readonly loupe: Loupe | null;
  /** What is marked on the picture; null for nothing. */
  readonly marking: string | null;
  /** What share of the picture each sign of its key covers. */
  readonly marked: { readonly marking: string; readonly shares: readonly number[] } | null;
  readonly pins: readonly Pin[];
  /** Side of the square that is averaged about each, in pixels. */
  readonly pinSide: number;
  /** What they are, in the same order. */
  readonly pinned: readonly Pinned[];
  /** The stage that waveform and levels read, and the side of the wipe that all instruments do: the one before as the screen shows it. */
  readonly scopeStage: StageId;
  readonly scopeSide: SideName;
  /** Whether chromaticities are counted: the one instrument that needs the whole core. */
  readonly chromaticity: boolean;
  readonly notices: readonly Notice[];
  /** The file that is being read, and how much of it has been, 0 ... 1. It is decoded after that. */
  readonly reading: { id: FrameId; share: number } | null;
  readonly received: Received | null;
  readonly failures: readonly Failure[];
  /** What belongs to the work beside the document, by topic: see `session/attached.js`. */
  readonly attached: Readonly<Record<string, unknown>>;
  /** Whether all work is in the browser's store: `no` if there is none, `writing` for a moment. */
  readonly kept: "yes" | "writing" | "no";
}
