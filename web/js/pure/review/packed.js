/**
 * JSON as few letters, for addresses and messages: deflate (RFC 1951), then base64url or base32
 * (RFC 4648), with a checksum, since letters get lost on the way.
 */

import { base32nopad, base64urlnopad } from "@scure/base";
import { Inflate, deflateSync, strFromU8, strToU8 } from "fflate";
import { sha256Of } from "./fingerprint.js";

/** Bytes of the checksum: the first ones of the text's SHA-256. */
const CHECK = 6;
/** Longest text that is unpacked: what is sent is far shorter, whatever it unpacks from. */
export const LONGEST = 200_000;
/** Packed bytes that are looked at before it is asked again how long the text has become. */
const STEP = 256;

/** The letters do not stand for what was packed. */
export class Damaged extends Error {}

/** @param {string} text */
function pack(text) {
  const packed = deflateSync(strToU8(text), { level: 9 });
  const bytes = new Uint8Array(CHECK + packed.length);
  bytes.set(sha256Of(text).subarray(0, CHECK));
  bytes.set(packed, CHECK);
  return bytes;
}

/**
 * @param {Uint8Array} packed
 * @returns {string} throws {@link Damaged} where it is cut, mangled or too long
 */
export function inflated(packed) {
  /** @type {Uint8Array[]} */
  const parts = [];
  let length = 0;
  const stream = new Inflate((part) => {
    length += part.length;
    if (length > LONGEST) throw new Damaged("too long");
    parts.push(part);
  });
  try {
    for (let at = 0; at < packed.length; at += STEP) stream.push(packed.subarray(at, at + STEP), at + STEP >= packed.length);
  } catch (error) {
    throw error instanceof Damaged ? error : new Damaged("not deflated");
  }
  const bytes = new Uint8Array(length);
  let end = 0;
  for (const part of parts) {
    bytes.set(part, end);
    end += part.length;
  }
  return strFromU8(bytes);
}

/** @param {Uint8Array} bytes */
function unpack(bytes) {
  const text = inflated(bytes.subarray(CHECK));
  const check = sha256Of(text);
  if (bytes.length <= CHECK || bytes.subarray(0, CHECK).some((byte, i) => byte !== check[i])) throw new Damaged("the checksum differs");
  return text;
}

/** @param {string} text */
export const toAddress = (text) => base64urlnopad.encode(pack(text));

/**
 * What mail programs and trackers hang behind a link is not part of it.
 * @param {string} letters
 * @returns {string} throws {@link Damaged}
 */
export function fromAddress(letters) {
  return unpack(decoded(() => base64urlnopad.decode(letters.replace(/[^\w-].*$/s, ""))));
}

/** In a message letters stand in groups, in lines that no program has to wrap. */
const GROUP = 8;
const GROUPS = 5;

/** @param {string} text */
export function toLetters(text) {
  const groups = base32nopad.encode(pack(text)).match(new RegExp(`.{1,${GROUP}}`, "g")) ?? [];
  const lines = [];
  for (let i = 0; i < groups.length; i += GROUPS) lines.push(groups.slice(i, i + GROUPS).join(" "));
  return lines.join("\n");
}

/**
 * Whatever is between the letters does not count: spaces, line breaks, marks of quoted mail.
 * @param {string} letters
 * @returns {string} throws {@link Damaged}
 */
export function fromLetters(letters) {
  const plain = letters.toUpperCase().replace(/[^A-Z2-7]/g, "");
  return unpack(decoded(() => base32nopad.decode(plain)));
}

/** @param {() => Uint8Array} decode */
function decoded(decode) {
  try {
    return decode();
  } catch {
    throw new Damaged("letters are missing");
  }
}
