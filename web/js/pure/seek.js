/** Finding an entry of a list by a few letters of its words. */

/**
 * Entries in which every word typed begins a word, or else stands somewhere; the better ones first,
 * otherwise in their own order.
 * @template T
 * @param {readonly T[]} entries
 * @param {string} typed
 * @param {(entry: T) => string} wordsOf
 * @returns {T[]}
 */
export function sought(entries, typed, wordsOf) {
  const wanted = typed.toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0) return [...entries];
  const found = entries.flatMap((entry) => {
    const words = wordsOf(entry).toLowerCase();
    const ranks = wanted.map((word) => rank(words, word));
    return ranks.includes(0) ? [] : [{ entry, rank: ranks.reduce((sum, it) => sum + it, 0) }];
  });
  return found.sort((a, b) => b.rank - a.rank).map(({ entry }) => entry);
}

/**
 * @param {string} words
 * @param {string} word
 * @returns {number} 3 at the very beginning, 2 where a word begins, 1 within one, 0 nowhere
 */
function rank(words, word) {
  if (words.startsWith(word)) return 3;
  const at = words.indexOf(word);
  if (at < 0) return 0;
  return words.split(/[^\p{L}\p{N}]+/u).some((it) => it.startsWith(word)) ? 2 : 1;
}
