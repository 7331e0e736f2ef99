/** What a frame suggests, in words and as values of its trim. */

/** @import { Suggests } from "../../../types.js" */

/** The light that a balanced frame has. */
const NEUTRAL = 5500;

/**
 * @param {Suggests} found
 * @returns {{ words: string, changes: ["exposure" | "kelvin" | "tint", number][] }}
 */
export function suggestionSaid({ exposure, kelvin, tint, reasons: [average, light] }) {
  const asks = kelvin !== NEUTRAL || tint !== 0;
  const stops = `${exposure > 0 ? "+" : "\u2212"}${Math.abs(exposure).toFixed(2)} stops`;
  const parts = [
    exposure === 0 ? `Exposure is fine: ${average}.` : `Exposure ${stops}: ${average}.`,
    asks ? `Light ${kelvin} K: ${light}.` : "Its light is neutral enough.",
  ];
  return {
    words: parts.join(" "),
    changes: exposure === 0 && !asks ? [] : [["exposure", exposure], ["kelvin", kelvin], ["tint", tint]],
  };
}
