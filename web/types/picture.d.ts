/** Pictures and what is measured of them. */

import type { StageId } from "./catalogue.js";

export interface Size {
  width: number;
  height: number;
}

export interface Box extends Size {
  x: number;
  y: number;
}

/** A picture to show: RGBA, 8 bits each. */
export interface Shown extends Size {
  pixels: Uint8ClampedArray<ArrayBuffer>;
}

/** All settings that a rendering depends on, each as JSON: the worker tells by the text whether it has read it. */
export interface RenderSettings {
  look: string;
  frame: string;
  delivery: string;
}

/** One side of the wipe. */
export type SideName = "before" | "after";

/** A picture's code at a small size: red, then green, then blue. */
export interface SmallCopy extends Size {
  code: Float32Array<ArrayBuffer>;
  /** Of the picture that it is a copy of. */
  full: Size;
  /** Of the frame in its clip, or in its name: grain and dust follow it. */
  number: number;
}

/** What differs between two renderings of a frame. */
export interface PictureDifference {
  /** Colour differences by CIEDE2000. */
  mean: number;
  most: number;
  /** Where they are, in four greys: up to 1, 3, 5, and more. */
  steps: Shown;
  /** The difference of the codes, eight times as large about mid-grey. */
  amplified: Shown;
}

/** A curve: codes out for evenly spaced codes in, 0 ... 1. */
export type CurveSamples = ArrayLike<number>;

/** One pixel's value as it leaves a stage. */
export interface TraceRow {
  stage: StageId;
  label: string;
  unit: string;
  values: [number, number, number];
  /** The same in the unit of the stage's axis; not finite for no light at all. */
  readings: [number, number, number];
}

/** What a frame suggests for its trim, what it seems to show, and why: exposure, light, scene. */
export interface Suggests {
  exposure: number;
  kelvin: number;
  tint: number;
  scene: "day" | "lamp" | "dusk" | "person";
  reasons: [string, string, string];
}

/** What a still asks of a look. */
export interface Matched {
  /** In canonical form. */
  look: string;
  /** In the order of the path: before and after, and the standard error in the control's unit (none of a hue). */
  moves: { stage: StageId; step: string; control: string; values: [number, number]; error: number | null }[];
  samePicture: boolean;
  /** Before and after: mean CIEDE2000 of the same picture, else how far tones and colours lie apart. */
  distance: [number, number];
  /** 0 to 1: how far the pictures decide, and not what looks usually do. */
  sure: number;
  /** What can't be matched, in sentences. */
  left: string[];
}

/** Four places of a picture, 0 to 1 across and down: a chart's corner patches, or a patch's corners. */
export type ChartCorners = readonly [ChartCorner, ChartCorner, ChartCorner, ChartCorner];
export type ChartCorner = readonly [number, number];

/** CIELAB under D50: L, a, b. */
export type LabColour = readonly [number, number, number];

/** One patch of a 24-patch chart. */
export interface ChartPatch {
  readonly name: string;
  /** Of what was read. */
  readonly outline: ChartCorners;
  /** Its light from mid-grey, with the frame's trim. */
  readonly stops: number;
  /** Half the spread of the middle two thirds of its green code, over the mean. */
  readonly spread: number;
  readonly clipped: boolean;
  /** Published, without the look, through it. */
  readonly colours: readonly [LabColour, LabColour, LabColour];
  /** CIEDE2000 from the published colour: without the look, through it. */
  readonly differences: readonly [number, number];
}

/** What a chart says, or one sentence why there is none. */
export type ChartAnswer = { readonly check: ChartCheck } | { readonly says: string };

/** What a 24-patch chart says of a frame. */
export interface ChartCheck {
  readonly corners: ChartCorners;
  /** Row by row, from dark skin to black. */
  readonly patches: readonly ChartPatch[];
  /** What its greys ask for, and how many of them told it; null if all are clipped. */
  readonly trim: { readonly exposure: number; readonly kelvin: number; readonly tint: number; readonly greys: number } | null;
  /** How it lies, its light, what is clipped, in sentences. */
  readonly remarks: readonly string[];
}

export interface Scopes {
  waveform: Shown;
  vectorscope: Shown;
  /** Pixels per level of the stage's axis, three times 256. */
  histogram: Uint32Array;
  /** What waveform and histogram are of; of what is looked at, the screen. */
  stage: StageId;
  reading: {
    /** In the unit of the stage's axis, but for one pixel of a thousand. */
    darkest: number;
    brightest: number;
    /** Shares of pixels at the ends of the axis. */
    below: number;
    above: number;
  };
}

/** A colour without its brightness, in CIE 1976 u'v' and CIE 1931 xy. */
export interface Chromaticity {
  u: number;
  v: number;
  x: number;
  y: number;
}

/** What is drawn around chromaticities, in u'v' from 0 to `span`. */
export interface Diagram {
  /** Of the counts' picture, in pixels. */
  side: number;
  span: number;
  /** Wavelength in nm, u', v'. */
  locus: [number, number, number][];
  /** The smallest first. */
  gamuts: { label: string; corners: [number, number][] }[];
  white: [number, number];
  /** Kelvin, u', v'. */
  lights: [number, number, number][];
}

export interface Chromaticities {
  shown: Shown;
  /** Of the picture: outside of each gamut, and too dark to have a colour. */
  shares: number[];
  diagram: Diagram;
}

/** What a stage makes of greys, in the unit of its axis: over the file's code in percent or stops of light from mid-grey. */
export interface StageCurve {
  across: number[];
  up: number[];
}

/** What the scan's codes mean, one entry for each of 0 ... 1023. */
export interface ScanScale {
  /** From mid-grey; NaN where no light leads. */
  stops: number[];
  /** Shares of the screen's range. */
  screen: number[];
}
