/** Signing an answer: ECDSA over P-256 with SHA-256 (FIPS 186-5) by the browser's own cryptography. */

/** @import { AnswerData, AnswerSignature } from "../types.js" */

import { base64urlnopad } from "@scure/base";
import { strToU8 } from "fflate";
import { openDB } from "idb";
import { signedText } from "../js/pure/review/answer.js";

const CURVE = { name: "ECDSA", namedCurve: "P-256" };
const SIGN = { name: "ECDSA", hash: "SHA-256" };

/** The browser's key: it can't be taken out of it. @returns {Promise<CryptoKeyPair>} */
async function ownKey() {
  const make = async () => crypto.subtle.generateKey(CURVE, false, ["sign", "verify"]);
  try {
    const database = await openDB("lookwright.key", 1, { upgrade: (it) => void it.createObjectStore("keys") });
    const kept = await database.get("keys", "own");
    if (kept) return kept;
    const pair = await make();
    await database.put("keys", pair, "own");
    return pair;
  } catch {
    // Where nothing can be kept the key lasts as long as the page.
    return make();
  }
}

/** @type {Promise<CryptoKeyPair> | undefined} */
let key;

/**
 * @param {AnswerData} answer
 * @returns {Promise<AnswerSignature>} rejects where the browser can't
 */
export async function signed(answer) {
  key ??= ownKey();
  const { privateKey, publicKey } = await key;
  const value = new Uint8Array(await crypto.subtle.sign(SIGN, privateKey, new Uint8Array(strToU8(signedText(answer)))));
  const { x = "", y = "" } = await crypto.subtle.exportKey("jwk", publicKey);
  return { kind: "ES256", x, y, value: base64urlnopad.encode(value) };
}

/**
 * @param {AnswerData} answer
 * @returns {Promise<boolean>} whether its signature is that of its key
 */
export async function verified(answer) {
  if (!answer.signature) return false;
  const { x, y, value } = answer.signature;
  try {
    const publicKey = await crypto.subtle.importKey("jwk", { kty: "EC", crv: "P-256", x, y }, CURVE, false, ["verify"]);
    return await crypto.subtle.verify(SIGN, publicKey, new Uint8Array(base64urlnopad.decode(value)), new Uint8Array(strToU8(signedText(answer))));
  } catch {
    return false;
  }
}
