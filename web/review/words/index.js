/** What the client reads, in the languages that there are. */

import de from "./de.js";
import en from "./en.js";
import es from "./es.js";
import fr from "./fr.js";
import ja from "./ja.js";

/** @typedef {typeof en} Words */
/** @typedef {Exclude<keyof Words, "quick">} WordKey */

/** @type {Readonly<Record<string, Words>>} */
export const LANGUAGES = { en, de, fr, es, ja };

/**
 * @param {readonly string[]} wanted language tags, the best first
 * @returns {string} the first that there is, else English
 */
export function languageOf(wanted) {
  for (const tag of wanted) {
    const [code = ""] = tag.toLowerCase().split("-");
    if (Object.hasOwn(LANGUAGES, code)) return code;
  }
  return "en";
}

/** @typedef {ReturnType<typeof createSpeech>} Speech */

/** @param {string} language */
export function createSpeech(language) {
  const words = LANGUAGES[language] ?? en;
  return {
    language,
    quick: words.quick,
    /**
     * @param {WordKey} key
     * @param {Record<string, string | number>} [values] for its `{...}`
     */
    say(key, values = {}) {
      return words[key].replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
    },
  };
}
