/** What can be typed where a number stands: a number, or a sum with it. */

/** Numbers, signs and brackets, whatever lies between them. */
const TOKEN = /\s*(\d+(?:\.\d*)?(?:e[+-]?\d+)?|\.\d+|[-+*/()])/iy;

/**
 * Reads "1.5", "2*1.2", "+1/3" or "(0.18 + 0.5) / 2": comma or point, any minus, a unit behind it.
 * What begins with "*" or "/" goes on from the value that stands there.
 * @param {string} text
 * @param {number} value that stands there
 * @returns {number | null} null if it is no number
 */
export function parse(text, value) {
  const plain = text
    .trim()
    .replace(/[\u2212\u2013]/g, "-")
    .replace(/\s*\u00d7$/, "")
    .replace(/[\u00d7\u22c5]/g, "*")
    .replaceAll("\u00f7", "/")
    .replaceAll(",", ".");
  const tokens = tokensOf(plain);
  if (tokens.length === 0) return null;
  const onward = /^[*/]$/.test(tokens[0] ?? "") ? [String(value), ...tokens] : tokens;
  const reader = { tokens: onward, at: 0 };
  const result = sum(reader);
  // What is left over can't be read: half a sum would be another number than the one that was meant.
  return reader.at === onward.length && Number.isFinite(result) ? result : null;
}

/**
 * @param {string} text
 * @returns {string[]} none if something else than a unit stands there
 */
function tokensOf(text) {
  const tokens = [];
  TOKEN.lastIndex = 0;
  let end = 0;
  for (let found = TOKEN.exec(text); found; found = TOKEN.exec(text)) {
    tokens.push(found[1] ?? "");
    end = TOKEN.lastIndex;
  }
  // A unit may stand behind the last number, and has no numbers in it.
  return /^\s*[^\d.*/()+-]*$/.test(text.slice(end)) ? tokens : [];
}

/** @typedef {{ tokens: string[], at: number }} Reader */

/** @param {Reader} reader @returns {number} */
function sum(reader) {
  let result = product(reader);
  for (let sign = reader.tokens[reader.at]; sign === "+" || sign === "-"; sign = reader.tokens[reader.at]) {
    reader.at += 1;
    const next = product(reader);
    result = sign === "+" ? result + next : result - next;
  }
  return result;
}

/** @param {Reader} reader @returns {number} */
function product(reader) {
  let result = factor(reader);
  for (let sign = reader.tokens[reader.at]; sign === "*" || sign === "/"; sign = reader.tokens[reader.at]) {
    reader.at += 1;
    const next = factor(reader);
    result = sign === "*" ? result * next : result / next;
  }
  return result;
}

/** @param {Reader} reader @returns {number} NaN if there is none */
function factor(reader) {
  const token = reader.tokens[reader.at];
  reader.at += 1;
  if (token === "-") return -factor(reader);
  if (token === "+") return factor(reader);
  if (token !== "(") return token === undefined ? NaN : Number(token);
  const inside = sum(reader);
  const closed = reader.tokens[reader.at] === ")";
  reader.at += 1;
  return closed ? inside : NaN;
}
