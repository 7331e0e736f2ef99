/** All that the page asks of its workers: what each task is given, and what it answers. */

import type { Catalogue, StageId } from "./catalogue.js";
import type { CurvePoints, FrameId, LookData, StepSettings } from "./look.js";
import type { Box, ChartAnswer, ChartCorners, Chromaticities, Chromaticity, CurveSamples, Matched, PictureDifference, RenderSettings, ScanScale, Scopes, Shown, SideName, Size, SmallCopy, StageCurve, Suggests, TraceRow } from "./picture.js";
import type { HaloPlane, HaloRanges, HaloRows, Health, PackPlan, PackRequest, Round, TableHealth } from "./save.js";
import type { PictureInfo } from "./state.js";

/** Of a picture that was opened: what its file says, and a small copy of it. */
export interface Opened {
  info: PictureInfo;
  copy: SmallCopy;
}

/** A look that the core has read. */
export interface ReadLook {
  look: LookData;
  /** As it is hashed and put into links. */
  canonical: string;
  /** As it is saved. */
  pretty: string;
  /** What of an older file had to be changed, in sentences. */
  notes: string[];
  /** Of its pixels: name and note are not in it. */
  fingerprint: string;
  /** The version of the film model, which is. */
  model: number;
}

/** Which part of a picture at full size a worker develops, and how. */
export interface PartWish {
  settings: RenderSettings;
  format: string;
  quality: number;
  /** Of the whole picture. */
  size: Size;
  index: number;
  count: number;
  /** Of the frame in its clip, or in its name. */
  number: number;
}

/** How far work is. */
export interface Progress {
  done: number;
  total: number;
}

/** Says how far the work is. */
export type Tell = (progress: Progress) => void;

/** A task without input takes an empty object. */
type Nothing = Record<string, never>;

/** Each is answered by the function of its name in `js/worker/tasks.js`. */
export interface Tasks {
  // What needs no picture.
  catalogue(asked: Nothing): Catalogue;
  /** Versions: of the page, and of the film model. */
  about(asked: Nothing): { version: string; model: number };
  /** Checks a look's file. */
  readLook(asked: { text: string }): ReadLook;
  startingLook(asked: { stock: string }): LookData;
  /** The contrast step's curve. */
  contrastCurve(asked: { contrast: StepSettings }): { samples: CurveSamples; pivot: number };
  /** A free curve. */
  curve(asked: { points: CurvePoints }): CurveSamples;
  /** What the codes of the scan mean at one of its steps. */
  greyCurve(asked: { settings: RenderSettings; stage: StageId }): StageCurve;
  scanScale(asked: { settings: RenderSettings; step: string }): ScanScale;

  // Pictures that a worker holds.
  /** Opens a picture and lets go of the others. `number`: of the frame, if it is from a clip. */
  open(asked: { id: FrameId; name: string; file: Blob; number?: number }): Opened;
  /** The same with a frame of a clip, as RGBA. */
  openStill(asked: { id: FrameId; name: string; pixels: Uint8ClampedArray; number: number } & Size): Opened;
  /** Takes over a small copy that another worker has made. */
  adopt(asked: { id: string; copy: SmallCopy }): void;
  /** Lets go of one. */
  drop(asked: { id: string }): void;
  /** A copy of the held picture that fits into `box`; never larger than it is. */
  copy(asked: { id: FrameId; box: Size }): SmallCopy;
  /** What there is to know of a picture, and a copy that fits into `box`; it is not held. */
  lookAt(asked: { name: string; file: Blob; box?: Size }): Opened;
  /** The same of a frame of a clip, as RGBA. */
  lookAtStill(asked: { name: string; pixels: Uint8ClampedArray; number: number; box?: Size } & Size): Opened;

  // Renderings.
  /** What differs between two renderings of a frame on a screen. */
  difference(asked: { before: Shown; after: Shown; screen: string }): PictureDifference;
  preview(asked: { id: FrameId; settings: RenderSettings; stage: StageId; quick: boolean } & Size): Shown;
  thumb(asked: { id: FrameId; settings: RenderSettings; stage: StageId }): Shown;
  detail(asked: { id: FrameId; settings: RenderSettings; stage: StageId; part: Box }): Shown | null;
  /** `viewed`: of the stage as it is shown, in the screen's code, and not of its own numbers. */
  scopes(asked: { id: FrameId; settings: RenderSettings; stage: StageId; viewed: boolean } & Size): Scopes;
  /** Of a stage whose numbers are light, or, `viewed`, of what is looked at there; with what is drawn around them. */
  chromaticities(asked: { id: FrameId; settings: RenderSettings; stage: StageId; viewed: boolean } & Size): Chromaticities;
  /** Of three numbers of a stage; null for what is too dark to have one. */
  chromaticityOf(asked: { settings: RenderSettings; stage: StageId; values: [number, number, number] }): Chromaticity | null;
  trace(asked: { id: FrameId; settings: RenderSettings; x: number; y: number; side: number }): TraceRow[];
  marked(asked: { id: FrameId; settings: RenderSettings; marking: string } & Size): { shown: Shown; shares: number[] };
  /** What the frame suggests for its own trim. */
  firstLook(asked: { id: FrameId; settings: RenderSettings }): Suggests;
  /** The moves that bring the frame to what a still looks like. `closely`: 0 to 1, for stills of something else. */
  matchStill(asked: { id: FrameId; settings: RenderSettings; file: Blob; name: string; closely: number }): Matched;
  /** What a 24-patch chart in a copy of a frame says: found, or where its corner patches are marked. */
  checkChart(asked: { copy: SmallCopy; settings: RenderSettings; marks: ChartCorners | null }): ChartAnswer;
  /** A frame of a clip that plays: for each side of the wipe, the stage that it shows. */
  clipFrame(
    asked: { settings: RenderSettings; sides: Partial<Record<SideName, StageId>>; full: Size; pixels: Uint8ClampedArray; number: number } & Size,
  ): Partial<Record<SideName, Shown>>;

  // The picture at full size: its rows, from the worker that holds it.
  lend(asked: { id: FrameId }): Size & { number: number; loan: number };
  /** `buffer`: what the rows are written to, if it is large enough. */
  rows(asked: { first: number; end: number; buffer?: ArrayBuffer | undefined }): Samples;
  release(asked: { loan: number }): void;

  // The picture at full size: one part of it, developed.
  /** null if the picture has fewer parts. */
  beginPart(asked: PartWish): Round | null;
  /** `bytes`: the file's next ones; `buffer`: what the rows were in. */
  stepPart(asked: Samples): { done: number; bytes: Bytes; buffer: ArrayBuffer };
  /** Which rows the part has of a plane, and which it needs of its neighbours'. */
  haloRanges(asked: HaloPlane): HaloRanges;
  /** Rows of its own, for a neighbour. */
  readHalo(asked: HaloPlane & { first: number; end: number }): HaloRows;
  /** Rows of a neighbour. */
  writeHalo(asked: HaloRows): void;
  /** All rows of a layer are there. */
  closeHalo(asked: { layer: number }): void;
  nextRound(asked: Nothing): Round;
  /** The rest of the file. */
  finishPart(asked: Nothing): { bytes: Bytes };

  // Other files.
  /** RGBA in sRGB code as a file with its profile. */
  encodePicture(asked: { pixels: Uint8ClampedArray; width: number; format: string; quality: number }): Bytes;
  /** The text of a `.cube` file. */
  saveTable(asked: { settings: RenderSettings; encoding: string; grid: number }): string;
  savePlate(asked: { id: FrameId; settings: RenderSettings; kind: string }): Bytes;
  packPlan(asked: { request: PackRequest }): PackPlan;
  /** What hurts in one of a plan's kinds. */
  packHealth(asked: { request: PackRequest; kind: number }): Health;
  savePack(asked: { request: PackRequest; frames: PackFrame[] }): Bytes;
  /** What hurts in a table file. */
  checkTable(asked: { name: string; file: Blob; settings: RenderSettings }): TableHealth;
}

type Bytes = Uint8Array<ArrayBuffer>;

/** Samples of rows, red, green, blue by turns. */
export interface Samples {
  bits: number;
  bytes: Bytes;
}

/** A picture for a pack's contact sheet. */
export interface PackFrame {
  file: Blob;
  name: string;
  settings: RenderSettings;
}

/** The core, compiled once for every worker: what the page begins with, and all of it; both are WebAssembly modules. */
export interface Core {
  first: Promise<object>;
  /** Fetched when it is first asked for. */
  whole(): Promise<object>;
}

export type TaskName = keyof Tasks;
export type Asked<T extends TaskName> = Parameters<Tasks[T]>[0];
export type Answer<T extends TaskName> = ReturnType<Tasks[T]>;

/** A question as it goes to a worker. */
export type Question = { [T in TaskName]: { id: number; task: T; asked: Asked<T> } }[TaskName];

/** What comes back under a question's number: how far it is, the answer, or one sentence. */
export type Reply =
  | { id: number; progress: Progress }
  | { id: number; answer: Answer<TaskName> }
  /** Only the whole core can do that. */
  | { id: number; whole: true }
  | {
      id: number;
      problem: string;
      /** Whether the worker is of no more use. */
      lost: boolean;
      /** Whether it was asked of a picture that another one has replaced. */
      stale: boolean;
    };
