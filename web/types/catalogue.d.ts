/** What the core says of itself: stages, steps and controls, each described once. */

import type { CurvePoints } from "./look.js";

export type StageId = "intake" | "lens" | "negative" | "scan" | "print" | "screen";

/** Everything the page is built from: the core describes each stage, step and control once. */
export interface Catalogue {
  stages: StageEntry[];
  amount: { min: number; max: number; default: number };
  startingStocks: Named[];
  handOver: HandOver;
  judging: Judging;
}

/** What is drawn around the instruments. */
export interface Judging {
  axes: StageAxis[];
  targets: Targets[];
  markings: Marking[];
}

/** Something that can be marked on the picture, and the key to it. */
export interface Marking {
  id: string;
  label: string;
  key: Sign[];
}

/** `colour` is sRGB code. */
export interface Sign {
  says: string;
  colour: [number, number, number];
  hatch: "plain" | "rising" | "falling" | "squares";
}

/** What is drawn on the vectorscope of a screen. */
export interface Targets {
  screen: string;
  /** Cb and Cr of colour bars at 75 and at 100 %: red, yellow, green, cyan, blue, magenta. */
  bars: [number, number][][];
  /** Direction of skins on the vectorscope, in degrees from Cb towards Cr. */
  skin: number;
}

/** The axis on which a stage's numbers are read. */
export interface StageAxis {
  stage: StageId;
  unit: string;
  /** Digits after the point of a reading. */
  digits: number;
  /** `place`: 0 to 1 from the lower end; `says`: in the unit. */
  marks: { place: number; says: number }[];
}

/** What can be written, and what pictures are read. */
export interface HandOver {
  splits: Named[];
  /** Of a pack's tables. */
  formats: Named[];
  /** Ids of the formats that a pack usually has. */
  usual: string[];
  plates: FileChoice[];
  /** Formats of a saved picture. */
  pictures: FileChoice[];
  /** A saved JPEG's. */
  quality: number;
  /** Endings of pictures that are read, without the point. */
  endings: string[];
}

export interface Named {
  id: string;
  label: string;
}

/** A choice that is written as a file. */
export interface FileChoice extends Named {
  extension: string;
  media: string;
  /** Why code for a screen is not written so, by the screen's id. */
  refused: Record<string, string>;
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
  neutral: boolean;
}

export interface ChoiceControl extends ControlWords {
  kind: "choice";
  options: Named[];
  default: string;
  neutral: string;
}

export interface CurveControl extends ControlWords {
  kind: "curve";
  max_points: number;
  default: CurvePoints;
  neutral: CurvePoints;
}

export type ControlEntry = NumberControl | SwitchControl | ChoiceControl | CurveControl;
