/** What goes to a client, and what comes back. */

import type { LookData, StageSettings } from "./look.js";
import type { Box } from "./picture.js";

/** One of the looks that a client chooses from. */
export interface ReviewVersion {
  /** `A`, `B` or `C`. */
  letter: string;
  name: string;
  /** What it is like, in the sender's words. */
  words: string;
  /** Of its pixels; see `pure/review/fingerprint.js`. */
  fingerprint: string;
  look: LookData;
}

export interface ReviewFrame {
  name: string;
  /** The part that is there pixel by pixel, in shares of the picture. */
  crop?: Box;
  /** Where a review by link takes the picture from; without it the client opens it. */
  url?: string;
  /** How a review by link reads it. */
  settings?: StageSettings;
}

/** A review without its pictures. */
export interface ReviewData {
  lookwrightReview: 1;
  /** Of the film model that the fingerprints are for. */
  model: number;
  title: string;
  /** Who sends it. */
  from: string;
  /** Who is asked, if that is known. */
  to: string;
  note: string;
  /** When it was made, in UTC (ISO 8601). */
  made: string;
  /** Where answers go by mail. */
  mail: string;
  /** The page's address, for answers as links. */
  home: string;
  versions: ReviewVersion[];
  frames: ReviewFrame[];
}

/** What a picture of a review shows: the frame before the look, or a version's letter. */
export type ShotKind = "before" | (string & {});

export interface ReviewShot {
  frame: number;
  kind: ShotKind;
  /** Whether it is the part that is there pixel by pixel. */
  crop: boolean;
  src: string;
}

export type Say = "yes" | "change";

/** Words on a place of the picture. */
export interface ReviewPin {
  /** Shares of the picture's width and height, from its top left. */
  x: number;
  y: number;
  /** The version that was looked at. */
  version: string;
  words: string;
}

export interface FrameAnswer {
  name: string;
  /** Empty while nothing was said. */
  say: Say | "";
  version: string;
  words: string;
  pins: ReviewPin[];
}

/** What a client says to a review. */
export interface AnswerData {
  lookwrightAnswer: 1;
  /** The review's id; see `pure/review/review.js`. */
  review: string;
  title: string;
  by: string;
  /** In UTC (ISO 8601). */
  at: string;
  say: Say;
  /** Which version the whole of it is about. */
  version: string;
  words: string;
  /** Those that it speaks of. */
  versions: { letter: string; name: string; fingerprint: string }[];
  frames: FrameAnswer[];
  signature?: AnswerSignature;
}

/** ECDSA over P-256 with SHA-256 (FIPS 186-5) of the answer's canonical JSON without it; base64url. */
export interface AnswerSignature {
  kind: "ES256";
  x: string;
  y: string;
  value: string;
}
