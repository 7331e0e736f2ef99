/** A review as the end of an address, and what stands in the way of long ones. */

/** @import { ReviewData } from "../../types.js" */

import { REVIEW_HASH } from "../pure/review/marks.js";
import { Damaged, fromAddress, toAddress } from "../pure/review/packed.js";
import { readReview } from "../pure/review/review.js";

/** What mail and chat programs mostly leave whole, in characters (common practice, no source). */
export const LINK_MOST = 2000;
/** What a QR code that a phone reads from a screen can hold, in bytes: version 25 with least correction (ISO/IEC 18004). */
export const QR_MOST = 1273;

/** @param {ReviewData} review */
export const reviewHash = (review) => REVIEW_HASH + toAddress(JSON.stringify(review));

/**
 * @param {string} hash of an address
 * @returns {ReviewData | null} null if it has no review; throws one sentence if it is broken
 */
export function reviewFromHash(hash) {
  if (!hash.startsWith(REVIEW_HASH)) return null;
  let data;
  try {
    data = JSON.parse(fromAddress(hash.slice(REVIEW_HASH.length)));
  } catch (error) {
    if (error instanceof Damaged || error instanceof SyntaxError) throw new Error("The link to this review is damaged or cut short; ask for it again, or for the review as a file.");
    throw error;
  }
  return readReview(data);
}

/** @param {number} length */
export const lengthSaid = (length) => (length > LINK_MOST ? `${length} characters: some mail and chat programs cut links as long as this, so send the file instead.` : `${length} characters.`);

/** The page's own address, where others can reach it; else nothing. */
export function homeAddress() {
  const { protocol, hostname, origin, pathname } = location;
  const local = hostname === "localhost" || hostname === "[::1]" || hostname.startsWith("127.");
  return /^https?:$/.test(protocol) && !local ? origin + pathname : "";
}
