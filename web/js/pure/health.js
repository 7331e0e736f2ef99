/** What was found out about tables, in one line for each thing that hurts. */

/** @import { Health } from "../../types.js" */

/** Worst first. */
const SEVERITIES = ["serious", "minor", "info"];

const VERDICTS = /** @type {Record<string, string>} */ ({
  serious: "Will show",
  minor: "May show in some pictures",
  info: "Nothing will hurt",
});

/**
 * @param {string} severity
 * @returns {string} what it means for pictures
 */
export function verdictOf(severity) {
  return VERDICTS[severity] ?? severity;
}

/** @typedef {{ severity: string, verdict: string, what: string, advice: string, tables: string[] }} HealthLine */

/**
 * The worst finding of each table, tables with the same one together, the worst first.
 * @param {{ table: string, health: Health }[]} examined in the order in which tables are named
 * @returns {HealthLine[]}
 */
export function healthLines(examined) {
  /** @type {Map<string, HealthLine>} */
  const lines = new Map();
  for (const { table, health } of examined) {
    const severity = health.worst;
    const finding = severity === "info" ? undefined : health.findings.find((it) => it.severity === severity);
    const what = finding?.what ?? "";
    const line = lines.get(`${severity} ${what}`) ?? { severity, verdict: verdictOf(severity), what, advice: finding?.advice ?? "", tables: [] };
    line.tables.push(table);
    lines.set(`${severity} ${what}`, line);
  }
  return [...lines.values()].sort((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity));
}

/**
 * @param {string[]} tables
 * @returns {string} the first two, and how many more
 */
export function tablesSaid(tables) {
  const more = tables.length - 2;
  return `${tables.slice(0, 2).join("; ")}${more > 0 ? ` and ${more} more` : ""}`;
}

/**
 * @param {number} bytes
 * @returns {string} two digits: a guess need not be finer
 */
export function sizeSaid(bytes) {
  const mega = bytes / 1e6;
  if (mega < 0.095) return `${Math.max(1, Math.round(bytes / 1000))} kB`;
  if (mega >= 1000) return `${(mega / 1000).toPrecision(2)} GB`;
  return mega >= 10 ? `${Math.round(mega)} MB` : `${mega.toFixed(1)} MB`;
}
