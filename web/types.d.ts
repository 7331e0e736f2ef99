/** Shapes shared by the page, the worker and the pure modules. */

export type StageId = "intake" | "lens" | "negative" | "scan" | "print" | "screen";

/** Everything the page is built from: the core describes each stage, step and control once. */
export interface Catalogue {
  stages: StageEntry[];
  amount: { min: number; max: number; default: number };
  handOver: { splits: Named[]; formats: Named[]; plates: Named[] };
}

export interface Named {
  id: string;
  label: string;
}

export interface StageEntry {
  id: StageId;
  label: string;
  /** Two plain sentences on what happens here in photographed film. */
  about: string;
  unit: string;
  steps: StepEntry[];
}

export interface StepEntry {
  id: string;
  label: string;
  help: string;
  texture: boolean;
  on: boolean;
  controls: ControlEntry[];
}

interface ControlWords {
  id: string;
  label: string;
  help: string;
}

export interface NumberControl extends ControlWords {
  kind: "number";
  unit: string;
  min: number;
  max: number;
  step: number;
  whole: boolean;
  scale: "linear" | "ratio" | "mired";
  default: number;
  neutral: number;
}

export interface SwitchControl extends ControlWords {
  kind: "switch";
  default: boolean;
}

export interface ChoiceControl extends ControlWords {
  kind: "choice";
  options: { id: string; label: string }[];
  default: string;
}

export type CurvePoints = [number, number][];

export interface CurveControl extends ControlWords {
  kind: "curve";
  max_points: number;
  default: CurvePoints;
}

export type ControlEntry = NumberControl | SwitchControl | ChoiceControl | CurveControl;

export type Value = number | boolean | string | CurvePoints;

/** Settings of one step that differ from its defaults; `on` and `amount` among them. */
export type StepSettings = Readonly<Record<string, Value>>;

/** Settings of one stage, by step. */
export type StageSettings = Readonly<Record<string, StepSettings>>;

/** A look as its file says it: defaults left out. */
export interface LookData {
  readonly lookwright: 1;
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
}

export interface History {
  readonly past: readonly Doc[];
  readonly present: Doc;
  readonly future: readonly Doc[];
  /** Edits of the same gesture make one entry. */
  readonly gesture: string | null;
}

/** Where a setting lives. */
export interface Place {
  stage: StageId;
  step: string;
  /** A control's id, `on` or `amount`. */
  control: string;
}

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

/** One picture of the reel. */
export interface ReelFrame {
  id: FrameId;
  name: string;
  /** Where its bytes come from when they are not kept: a demo frame's address. */
  url?: string;
  bytes?: Uint8Array;
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
}

/** A clip of the reel, and which of its frames is looked at. */
export interface ClipFrames {
  file: Blob;
  /** Frames per second. */
  rate: number;
  frames: number;
  /** Counted from 0. */
  number: number;
}

export interface Size {
  width: number;
  height: number;
}

export interface Box extends Size {
  x: number;
  y: number;
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

export interface Notice {
  id: number;
  text: string;
  tone: "plain" | "problem";
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
  /** A control is being dragged: coarse pictures will do. */
  readonly dragging: boolean;
  /** Whether a clip plays, or is being gone through: what is shown then is not the held picture. */
  readonly moving: "no" | "playing" | "scrubbing";
  /** The picture point under the pixel trace, in picture pixels. */
  readonly tracePoint: { x: number; y: number } | null;
  readonly notices: readonly Notice[];
}

/** A picture to show: RGBA, 8 bits each. */
export interface Shown extends Size {
  pixels: Uint8ClampedArray;
}

/** What a rendering needs to know. */
export interface Recipe {
  look: string;
  frame: string;
  delivery: string;
}

/** One pixel's value as it leaves a stage. */
export interface TraceRow {
  stage: StageId;
  label: string;
  unit: string;
  values: [number, number, number];
}

export interface Scopes {
  waveform: Shown;
  vectorscope: Shown;
  /** Shares of pixels per code, three times 256. */
  histogram: Uint32Array;
}

/** What the core finds when it examines a table. */
export interface Health {
  worst: "info" | "minor" | "serious";
  findings: Finding[];
}

export interface Finding {
  check: string;
  severity: Health["worst"];
  what: string;
  place: string;
  measure: string;
  advice: string;
}

/** The same of a file. */
export interface TableHealth extends Health {
  format: string;
  size: number;
  remarks: string[];
}

/** What a hand-over pack would be. */
export interface PackPlan {
  tables: number;
  /** About. */
  zip_bytes: number;
  kinds: { stock: string; encoding: string }[];
}

/** What the scan's codes mean, one entry for each of 0 ... 1023. */
export interface ScanScale {
  /** From mid-grey; NaN where no light leads. */
  stops: number[];
  /** Shares of the screen's range. */
  screen: number[];
}

/** A round of a part of a picture being saved. */
export interface Round {
  /** First row and end of the rows that each strip is made from. */
  needs: [number, number][];
  /** Whether the parts have to hear of each other after it. */
  gathers: boolean;
  /** Whether it makes the file. */
  last: boolean;
}

/** One level, 1 or 2, of one layer of what a part has gathered. */
export interface Sheet {
  layer: number;
  level: number;
}

/** First rows and ends of what a part has of a sheet and of what it needs, and how many numbers a row has. */
export interface Offer {
  own: [number, number];
  wanted: [number, number];
  columns: number;
}

/** Some rows of a sheet, for the other part. */
export interface ToldRows extends Sheet {
  first: number;
  values: Float32Array<ArrayBuffer>;
}
