/** The light path as chapters, for a first-year student. Numbers come from the curves of the look that is taught with. */

/** @import { Place, StageId } from "../../types.js" */

/**
 * What leaves a stage for what comes in, in the stage's own unit.
 * @typedef {(across: number) => number} Reads
 */

/**
 * @typedef {object} Chapter
 * @property {StageId} stage
 * @property {string} title
 * @property {string} film what happens in photographed film
 * @property {(reads: Reads) => string} shown what the curve beside it shows
 * @property {string} maths
 * @property {string} source of the formula, and whether its numbers are standard, measured or chosen
 * @property {string} try what to do with the slider
 * @property {Place} place what the slider changes
 * @property {[low: number, high: number]} reach of the slider
 * @property {string} ask
 * @property {(reads: Reads) => string} answer
 */

/**
 * @param {number} value
 * @param {number} [digits]
 */
const figure = (value, digits = 0) => value.toFixed(digits).replace("-", "\u2212");

/** Power of a Rec.709 screen (ITU-R BT.1886). */
const SCREEN_POWER = 2.4;

/** @type {readonly Chapter[]} */
export const CHAPTERS = [
  {
    stage: "intake",
    title: "From code to light",
    film: "Film is exposed by light, but a camera\u2019s file holds code: it spends about as many steps on a dark stop as on a bright one, so that neither is lost. Before anything else the code has to become light again.",
    shown: (reads) => `Half of this file\u2019s code stands for ${figure(reads(50), 1)} stops from mid-grey, all of it for ${figure(reads(100), 1)}.`,
    maths: "light = 0.18 \u00d7 2^stops",
    source: "A stop is a doubling of light: standard. Each camera\u2019s curve is its maker\u2019s, published.",
    try: "Give the shot more light, or less.",
    place: { stage: "intake", step: "trim", control: "exposure" },
    reach: [-3, 3],
    ask: "Four times the light: how many stops is that?",
    answer: () => "Two. Each doubling is one stop, wherever it begins.",
  },
  {
    stage: "lens",
    title: "Through the lens",
    film: "Glass spreads a little of every light, a diffuser in front of it more, and the corners of the frame get less. All this happens to light, so it is done to light here: a lamp\u2019s glow is added before the film sees it.",
    shown: (reads) => `A grey two stops over the middle leaves the lens ${figure(reads(2), 1)} stops over it: the lens opens or closes, and bends nothing.`,
    maths: "corner = middle \u00d7 cos\u2074 \u03b8",
    source: "The fall-off by the fourth power of the cosine is standard optics; how far a diffuser spreads is chosen.",
    try: "Open the lens, or close it.",
    place: { stage: "lens", step: "exposure", control: "stops" },
    reach: [-3, 5],
    ask: "Why does a glow that is added to the finished picture look like paint?",
    answer: () => "Because code is close to a logarithm. Light adds up as light; on code, a lamp a thousand times as bright as grey spreads hardly more than a white shirt does.",
  },
  {
    stage: "negative",
    title: "The negative",
    film: "Where light falls, the developer leaves density, and the more light the more of it: bright becomes dark. In the deepest shadows nothing is left but the base; high above, layers saturate slowly, so a lamp keeps its shape.",
    shown: (reads) => `Each doubling of light adds about the same density, ${figure((reads(2) - reads(-1)) / 3, 2)}. From six stops over on it adds only ${figure(reads(7) - reads(6), 2)}.`,
    maths: "D = \u03b3 \u00d7 log\u2081\u2080 exposure + constant, between toe and shoulder",
    source: "The characteristic curve: Hurter and Driffield, 1890 (from memory). Its slope at ISO 250 is a published average; toe and shoulder are chosen.",
    try: "Develop it longer (push), or shorter.",
    place: { stage: "negative", step: "development", control: "push" },
    reach: [-2, 2],
    ask: "Which has more density on the negative: the sun, or a black coat?",
    answer: (reads) => `The sun. Five stops over grey the film has ${figure(reads(5), 2)}, five under it ${figure(reads(-5), 2)}. That is why it is called a negative.`,
  },
  {
    stage: "scan",
    title: "The scan",
    film: "A scanner measures density and writes it as code, evenly: flat, grey, and with all that the negative holds. The picture is made from this code, by a steeper curve about a point that stays where it is.",
    shown: (reads) => `Mid-grey leaves this stage as code ${figure(reads(0))}, a stop more as ${figure(reads(1))}, a stop less as ${figure(reads(-1))}.`,
    maths: "code = 95 + density \u00f7 0.002",
    source: "Printing density in 10-bit code: standard (Kodak H-387; SMPTE ST 2065-2). The curve that follows is the look\u2019s own.",
    try: "Make the curve about the pivot steeper.",
    place: { stage: "scan", step: "contrast", control: "slope" },
    reach: [0.8, 2.4],
    ask: "Why does a flat scan hold more than the picture that is made from it?",
    answer: () => "Because no screen shows as many stops as film records. The picture keeps the middle at full contrast, and rolls the ends off softly.",
  },
  {
    stage: "print",
    title: "The print",
    film: "The negative is turned round once more: printed on positive film, whose slope is about three, or shown straight. Straight is softer than any print; a print has deeper blacks, and dyes that are never pure.",
    shown: (reads) => `Mid-grey comes to ${figure(reads(0))} % of the print\u2019s white, two stops more to ${figure(reads(2))} %.`,
    maths: "density of the print = \u03b3 \u00d7 (light of the printer \u2212 density of the negative), between its ends",
    source: "The chain negative to positive is standard practice; the aim of the printed grey is published (SMPTE J. 1976, H-61), the curve is chosen.",
    try: "Give the scene more light, and watch the whites.",
    place: { stage: "lens", step: "exposure", control: "stops" },
    reach: [-3, 5],
    ask: "Why is a print made with more light darker?",
    answer: () => "Because positive film, too, gets denser where light falls, and density is dark.",
  },
  {
    stage: "screen",
    title: "The screen",
    film: "The print\u2019s light is written as code for one kind of screen. What the screen cannot show is brought in by paling it, so that its hue stays: red lamps go to orange and white, never to pink.",
    shown: (reads) => `Mid-grey ends at ${figure(reads(0))} % of the code, two stops more at ${figure(reads(2))} %, five at ${figure(reads(5))} %.`,
    maths: `light = code^${SCREEN_POWER}`,
    source: "Rec.709 screens: standard (ITU-R BT.1886). How colours are brought in is chosen, and held against CAM16.",
    try: "Give the scene more light: how softly do whites arrive?",
    place: { stage: "lens", step: "exposure", control: "stops" },
    reach: [-3, 5],
    ask: "Is half of the code half of the light?",
    answer: () => `No: 0.5 to the power of ${SCREEN_POWER} is ${figure(100 * 0.5 ** SCREEN_POWER)} % of it. The eye takes that for nearly half, which is what code is for.`,
  },
];

/**
 * A curve as a function; ends go on as they are.
 * @param {{ across: number[], up: number[] }} curve evenly spaced
 * @returns {Reads}
 */
export function readsOf({ across, up }) {
  const [first = 0] = across;
  const step = (across[1] ?? first + 1) - first;
  return (x) => {
    const at = Math.min(Math.max((x - first) / step, 0), up.length - 1);
    const i = Math.min(Math.floor(at), up.length - 2);
    const [low = 0, high = 0] = [up[i], up[i + 1]];
    return low + (high - low) * (at - i);
  };
}
