// Reviews and answers as files, links and letters: kept ones, damaged ones, hostile ones.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { deflateRawSync } from "node:zlib";
import { readAnswer, toFile, toHash, toMessage } from "../../web/js/pure/review/answer.js";
import { piecesOf } from "../../web/js/pure/review/compose.js";
import { canonical, digest, fingerprintOf } from "../../web/js/pure/review/fingerprint.js";
import { holdsAnswer } from "../../web/js/pure/review/marks.js";
import { Damaged, inflated } from "../../web/js/pure/review/packed.js";
import { recordPage } from "../../web/js/pure/review/record-page.js";
import { altered, readReview, reviewId } from "../../web/js/pure/review/review.js";
import { reviewFromHash } from "../../web/js/review/link.js";
import { LANGUAGES, languageOf } from "../../web/review/words/index.js";

const kept = (name) => readFileSync(new URL(`../data/review/${name}`, import.meta.url), "utf8");
const page = kept("review-1.html");
const review = readReview(JSON.parse(/<script type="application\/json" id="data">(.*?)<\/script>/s.exec(page)[1]));
const { answer, edited } = readAnswer(kept("answer-1.answer.json"));

test("canonical JSON is RFC 8785's", () => {
  // The example of its section 3.2.3: keys sorted by UTF-16 units.
  const sorted = canonical({ "\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One", "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis" });
  assert.equal(sorted, '{"\\r":"Carriage Return","1":"One","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis","\u20ac":"Euro Sign","\ud83d\ude00":"Emoji: Grinning Face","\ufb33":"Hebrew Letter Dalet With Dagesh"}');
  // Section 3.2.2.
  assert.equal(canonical([333333333.33333329, 1e30, 4.5, 2e-3, 1e-27]), "[333333333.3333333,1e+30,4.5,0.002,1e-27]");
});

test("what was kept of the first version is read, and all forms of an answer are one", () => {
  assert.equal(edited, false);
  assert.equal(answer.review, reviewId(review));
  assert.deepEqual(altered(review), []);
  const { signature: _, ...unsigned } = answer;
  for (const name of ["answer-1.message.txt", "answer-1.link.txt"]) {
    assert.ok(holdsAnswer(kept(name)));
    assert.deepEqual(readAnswer(kept(name)).answer, unsigned, name);
  }
  const link = kept("review-1.link.txt").trim();
  assert.equal(reviewFromHash(link.slice(link.indexOf("#"))).versions[0].fingerprint, review.versions[1].fingerprint);
  assert.deepEqual(readAnswer(toFile(answer)).answer, answer);
});

test("a message survives quoting, wrapping, and whatever programs do to spaces and case", () => {
  const message = toMessage(answer);
  for (const mangled of [message.toLowerCase(), message.replace(/\s+/g, ""), message.replaceAll("\n", "\r\n> > "), `Dear Mara,\n\n${message}\n\nAda - sent from my phone`, message.replaceAll(" ", "\u00a0"), message.replace(/(.{30})/g, "$1\n")]) {
    assert.deepEqual(readAnswer(mangled).answer, answer);
  }
});

test("what is cut, mangled or changed is refused in one sentence, or said to be changed", () => {
  const cut = /damaged or cut short|can\u2019t be read|no answer in it/;
  for (const whole of [toMessage(answer), toHash(answer)]) {
    for (let end = whole.indexOf(whole.includes("=") ? "=" : ":") + 1; end < whole.length - 3; end += 7) assert.throws(() => readAnswer(whole.slice(0, end)), cut, `${end} of ${whole.length}`);
    for (let at = 40; at < whole.length - 3; at += 11) {
      if (!/[A-Za-z]/.test(whole[at])) continue;
      const other = `${whole.slice(0, at)}${whole[at].toUpperCase() === "Q" ? "R" : "Q"}${whole.slice(at + 1)}`;
      assert.throws(() => readAnswer(other), cut, `${at}`);
    }
  }
  assert.equal(readAnswer(toFile(answer).replace('"say": "change"', '"say": "yes"')).edited, true);
  for (const [wrong, sentence] of [
    [{ ...answer, lookwrightAnswer: 2 }, /newer Lookwright/],
    [{ ...answer, version: "C" }, /does not name/],
    [{ ...answer, frames: [{ ...answer.frames[0], pins: [{ x: 2, y: 0, version: "B", words: "" }] }] }, /outside the picture/],
    [{ ...answer, frames: Array.from({ length: 1000 }, () => answer.frames[0]) }, /at most 24/],
    [{ ...answer, by: 7 }, /not/],
    [[], /missing/],
  ]) assert.throws(() => readAnswer(JSON.stringify({ lookwrightAnswer: 1, ...wrong })), sentence);
});

test("a look that was changed inside a review is noticed, and so is the model's version", () => {
  const [first, ...others] = review.versions;
  const warmer = { ...first, look: { ...first.look, lens: { ...first.look.lens, exposure: { stops: 0.9 } } } };
  assert.deepEqual(altered({ ...review, versions: [warmer, ...others] }).map(({ letter }) => letter), ["A"]);
  assert.notEqual(fingerprintOf(first.look, review.model + 1), first.fingerprint);
  assert.equal(fingerprintOf({ ...first.look, name: "Another", note: "name" }, review.model), first.fingerprint);
});

test("a few bytes that unpack to a hundred megabytes are refused before they do", () => {
  const bomb = deflateRawSync(Buffer.alloc(100_000_000), { level: 9 });
  const before = process.memoryUsage().arrayBuffers;
  assert.throws(() => inflated(bomb), Damaged);
  assert.ok(process.memoryUsage().arrayBuffers - before < 20_000_000);
  assert.throws(() => reviewFromHash(`#review=${bomb.toString("base64url")}`), /damaged or cut short/);
});

test("names that carry script stay text, in the review and in the record", () => {
  const evil = "</script><script>alert(1)</script><img src=x onerror=alert(1)>\u202e";
  const hostile = readReview({ ...review, title: evil, frames: [{ name: evil }], home: "javascript:alert(1)", mail: "a@b.example?bcc=x@y.example" });
  assert.deepEqual([hostile.home, hostile.mail], ["", ""]);
  const made = piecesOf("<title>@@title@@</title>@@figures@@<script>@@data@@</script>", hostile, [{ frame: 0, kind: "before", crop: false }]).join("");
  const record = recordPage({ title: evil, made: new Date(0), entries: [{ answer: { ...answer, by: evil, words: evil }, said: evil, warnings: [evil], key: "", since: evil }] });
  assert.equal(made.match(/<script|<img/g).length, 2);
  assert.doesNotMatch(record, /<script|<img/);
  assert.throws(() => readReview({ ...review, lookwrightReview: 9 }), /newer Lookwright/);
  for (const url of ["https://elsewhere.example/x.png", "//elsewhere.example/x.png", "../../etc/passwd", "data:image/png;base64,AA"]) assert.equal(readReview({ ...review, frames: [{ name: "x", url }] }).frames[0].url, undefined, url);
});

test("every language says everything, with the same places to fill in", () => {
  const places = (text) => (text.match(/\{\w+\}/g) ?? []).sort().join();
  for (const [code, words] of Object.entries(LANGUAGES)) {
    assert.deepEqual(Object.keys(words), Object.keys(LANGUAGES.en), code);
    assert.equal(words.quick.length, LANGUAGES.en.quick.length);
    for (const [key, text] of Object.entries(words)) if (typeof text === "string") assert.equal(places(text), places(LANGUAGES.en[key]), `${code} ${key}`);
  }
  assert.deepEqual([languageOf(["pt-BR", "de-AT"]), languageOf(["nl"]), languageOf(["ja"])], ["de", "en", "ja"]);
});

test("a digest is the SHA-256 that coreutils gives", () => {
  // printf '{"a":1}' | sha256sum
  assert.equal(digest({ a: 1 }), "015abd7f5cc57a2dd94b7590f04ad8084273905ee33ec5cebeae62276a97f862");
});
