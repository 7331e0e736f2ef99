/**
 * Fingerprints: SHA-256 (FIPS 180-4) over canonical JSON (RFC 8785). The core makes the same of a
 * look; a client's page makes its own, so that it says yes to what is really in it.
 */

/** @import { LookData } from "../../../types.js" */

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import canonicalize from "canonicalize";
import { strToU8 } from "fflate";

/**
 * @param {unknown} data of JSON's kinds
 * @returns {string} RFC 8785
 */
export function canonical(data) {
  const text = canonicalize(data);
  if (text === undefined) throw new Error("there is nothing to write");
  return text;
}

/** @param {string} text */
export const sha256Of = (text) => sha256(strToU8(text));

/**
 * @param {unknown} data
 * @returns {string} 64 hexadecimal digits
 */
export const digest = (data) => bytesToHex(sha256Of(canonical(data)));

/**
 * What tells a look's pixels from those of any other. The look has to be as the core writes it,
 * defaults left out.
 * @param {LookData} look
 * @param {number} model version of the film model
 * @returns {string} 64 hexadecimal digits
 */
export function fingerprintOf(look, model) {
  const { name: _name, note: _note, ...pixels } = look;
  return digest({ look: pixels, model });
}
