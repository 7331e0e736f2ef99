/** What the core says of itself: stages, steps and controls, each described once. */

import type { CurvePoints } from "./look.js";

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
