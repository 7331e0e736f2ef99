/** Things that are best shown beside each other, on the frame and the look that are there. */

/** @import { Place, StageId, Value } from "../../types.js" */

import { withGlow, withNoise } from "../pure/afterwards.js";

/**
 * @typedef {object} Change
 * @property {Place} place its step is put on
 * @property {Value} [to] what is set
 * @property {number} [by] what is added instead
 */

/**
 * @typedef {object} Side
 * @property {string} caption
 * @property {Change[]} changes made to a copy of the look
 * @property {keyof typeof ADDED} [added] to the finished picture, as one would in an editor
 */

/**
 * @typedef {object} Demonstration
 * @property {string} id in lesson files
 * @property {string} title
 * @property {string} words what is done, and why
 * @property {string} see what to look for
 * @property {boolean} [close] whether a part of the picture is shown, larger
 * @property {Side[]} sides two or three
 */

/** @param {StageId} stage @param {string} step @param {string} control @returns {Place} */
const place = (stage, step, control) => ({ stage, step, control });
/** @param {Place} where @param {Value} value @returns {Change} */
const set = (where, value) => ({ place: where, to: value });
/** @param {Place} where @param {number} more @returns {Change} */
const add = (where, more) => ({ place: where, by: more });

const EXPOSURE = place("lens", "exposure", "stops");
const POINTS = place("scan", "points", "whole");
const PUSH = place("negative", "development", "push");
/**
 * Printer points that make up for a stop: a point is .025 of density (trade practice), a stop .301 of log exposure
 * times the negative's slope of about .6.
 */
const POINTS_PER_STOP = 7.25;
/** @param {number} stops @returns {Change[]} a negative exposed so, and printed back */
const exposed = (stops) => [add(EXPOSURE, stops), add(POINTS, -stops * POINTS_PER_STOP)];

const HALATION = [set(place("negative", "halation", "amount"), 1), set(place("negative", "halation", "strength"), 0.6), set(place("negative", "halation", "onset"), 1)];
const BACKING = place("negative", "halation", "backing");
/** @param {string} method @returns {Change[]} */
const thrownBack = (method) => [...HALATION, set(BACKING, "none"), set(place("negative", "halation", "method"), method)];
/** @param {string} backing @returns {Change[]} */
const backed = (backing) => [...HALATION, set(BACKING, backing)];

/** What can be added to a finished picture. */
export const ADDED = { glow: withGlow, noise: withNoise };

const GRAIN = place("negative", "grain", "amount");
const NO_GRAIN = set(place("negative", "grain", "on"), false);
const NO_HALATION = set(place("negative", "halation", "on"), false);

const TEXTURE = [
  ...["diffusion", "fringe", "vignette", "weave"].map((step) => place("lens", step, "on")),
  ...["halation", "softness", "edge", "grain", "dust", "flicker"].map((step) => place("negative", step, "on")),
];

/** @type {readonly Demonstration[]} */
export const DEMONSTRATIONS = [
  {
    id: "three-stops-wrong",
    title: "Three stops wrong",
    words: "The negative gets an eighth of the light, the right light, or eight times as much. The scan is then printed lighter or darker by as much.",
    see: "Too little light: the deepest shadows are gone for good, and printing lighter lifts fog and grain. Too much: all is there, and highlights only come closer together.",
    sides: [
      { caption: "3 stops under", changes: exposed(-3) },
      { caption: "As exposed", changes: [] },
      { caption: "3 stops over", changes: exposed(3) },
    ],
  },
  {
    id: "early-or-late-balance",
    title: "Early or late balance",
    words: "The same step towards warm: once as light before the film, once as printer points after it.",
    see: "Early, whites and shadows turn together, as under another lamp. Late, the whole scale is pushed in density, so the tint stays strong up to the whites.",
    sides: [
      { caption: "Early: light balance", changes: [add(place("lens", "light", "kelvin"), 1800)] },
      { caption: "As it is", changes: [] },
      { caption: "Late: printer points", changes: [add(place("scan", "points", "warmth"), 3)] },
    ],
  },
  {
    id: "pushed",
    title: "Pushed two stops",
    words: "Two stops too little light, developed normally and developed longer.",
    see: "The push brings mid-tones back and steepens them. What the film never saw in the shadows does not come back; grain and fog grow.",
    sides: [
      { caption: "2 stops under, developed normally", changes: [add(EXPOSURE, -2), set(PUSH, 0)] },
      { caption: "2 stops under, pushed by two", changes: [add(EXPOSURE, -2), set(PUSH, 2)] },
    ],
  },
  {
    id: "three-halations",
    title: "Three ways of halation",
    words: "Light that has gone through the film comes back in three ways: as a ring from the back of the base, scattered near the red layer, as a veil.",
    see: "On a frame with lamps, look at their edges: where the ring is, how red it is, how far it goes.",
    close: true,
    sides: [
      { caption: "Base ring", changes: thrownBack("base-ring") },
      { caption: "Red scatter", changes: thrownBack("red-scatter") },
      { caption: "Veil", changes: thrownBack("veil") },
    ],
  },
  {
    id: "behind-the-film",
    title: "What lies behind the film",
    words: "The same lights on film with a black backing, with a grey undercoat, and with nothing behind it.",
    see: "A backing takes the light that would come back. Without one, lamps get their red edge.",
    close: true,
    sides: [
      { caption: "Black backing", changes: backed("black") },
      { caption: "Undercoat", changes: backed("undercoat") },
      { caption: "Nothing", changes: backed("none") },
    ],
  },
  {
    id: "straight-or-printed",
    title: "Straight or printed",
    words: "The scan shown as it is graded, and the same scan printed as a positive.",
    see: "A print has a slope of its own: blacks go deeper, whites roll off sooner, and strong colours get dense.",
    sides: [
      { caption: "Straight", changes: [set(place("print", "positive", "on"), false)] },
      { caption: "Printed", changes: [set(place("print", "positive", "on"), true)] },
    ],
  },
  {
    id: "density-or-saturation",
    title: "Density or saturation",
    words: "More colour in two ways: dyes that get denser, and saturation on the screen.",
    see: "Denser colours get deeper and darker, as more dye does. More saturation makes them glow at the same lightness.",
    sides: [
      { caption: "Dye density", changes: [add(place("scan", "dye_density", "whole"), 0.4)] },
      { caption: "As it is", changes: [] },
      { caption: "Saturation", changes: [add(place("scan", "saturation", "saturation"), 0.5)] },
    ],
  },
  {
    id: "beyond-a-table",
    title: "What a table can\u2019t carry",
    words: "A table turns one colour into another, whatever lies beside it. Grain, halation, diffusion, softness and dust need the neighbours, or a place on the film.",
    see: "Tone and colour are the same on both sides. Compare lamps, edges and even areas.",
    close: true,
    sides: [
      { caption: "The table alone", changes: TEXTURE.map((it) => set(it, false)) },
      { caption: "The whole look", changes: [] },
    ],
  },
  {
    id: "halation-afterwards",
    title: "Halation in the film or afterwards",
    words: "Light spreads in the film, before it becomes density. Or the bright parts of the finished picture are blurred, tinted red and laid over it, as one would in an editor; that is simulated here, on the screen\u2019s code.",
    see: "In the film lamps glow, as they are many times as bright as anything else. Afterwards white paper and petals glow as much: the finished picture no longer knows what was brighter.",
    close: true,
    sides: [
      { caption: "In the film", changes: thrownBack("red-scatter") },
      { caption: "Without", changes: [NO_HALATION] },
      { caption: "Afterwards, in an editor", changes: [NO_HALATION], added: "glow" },
    ],
  },
  {
    id: "grain-afterwards",
    title: "Grain in the film or afterwards",
    words: "Grain is what density is made of, and goes through the curve that follows. Or noise of one strength is laid over the finished picture, as one would in an editor; that is simulated here, on the screen\u2019s code.",
    see: "In the film mid-tones show most of it: where the curve rolls off towards white it is pressed together with all else, so whites stay clean. Afterwards it lies on all alike, on white paper and on lamps as well.",
    close: true,
    sides: [
      { caption: "In the film", changes: [set(GRAIN, 2)] },
      { caption: "Without", changes: [NO_GRAIN] },
      { caption: "Afterwards, in an editor", changes: [NO_GRAIN], added: "noise" },
    ],
  },
];
