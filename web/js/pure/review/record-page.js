/** All sign-offs on one page, as a file to be kept or printed. */

/** @import { AnswerData } from "../../../types.js" */

import { escaped } from "./markup.js";

const STYLE = "body{font:12px/1.45 system-ui,sans-serif;max-width:48rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}h1{font-size:1.5em}h2{font-size:1.15em;margin:1.5em 0 .3em}article{border-top:1px solid #999;break-inside:avoid}p{margin:.3em 0;overflow-wrap:anywhere}code{font-size:.85em}";

/**
 * @param {{ title: string, made: Date, entries: { answer: AnswerData, said: string, warnings: string[], key: string, since: string }[] }} given
 *   said: the answer in one line; since: what became of the look
 * @returns {string} HTML without script
 */
export function recordPage({ title, made, entries }) {
  const time = (/** @type {string} */ at) => `<time datetime="${escaped(at)}">${escaped(at.replace("T", " ").replace(/(\.\d+)?Z$/, " UTC"))}</time>`;
  const articles = entries.map(({ answer, said, warnings, key, since }) => {
    const lines = answer.frames.flatMap((frame) => [
      ...(frame.say || frame.words || frame.pins.length > 0 ? [`${frame.name}: ${frame.say === "yes" ? `yes to ${frame.version}` : frame.say === "change" ? "please change" : "no answer"}${frame.words ? `. ${frame.words}` : ""}`] : []),
      ...frame.pins.map((pin, i) => `${frame.name}, note ${i + 1} on ${pin.version} at ${Math.round(pin.x * 100)} % from the left, ${Math.round(pin.y * 100)} % from the top: ${pin.words}`),
    ]);
    return [
      "<article>",
      `<h2>${escaped(said)}</h2>`,
      `<p>${escaped(answer.title)}, ${time(answer.at)}</p>`,
      ...(answer.words ? [`<p>${escaped(answer.words)}</p>`] : []),
      ...(lines.length > 0 ? [`<ul>${lines.map((text) => `<li>${escaped(text)}</li>`).join("")}</ul>`] : []),
      ...warnings.map((text) => `<p><strong>${escaped(text)}</strong></p>`),
      ...(since ? [`<p>${escaped(since)}</p>`] : []),
      ...answer.versions.map(({ letter, name, fingerprint }) => `<p>${escaped(letter)} ${escaped(name)} <code>${escaped(fingerprint)}</code></p>`),
      ...(key ? [`<p>Signed with key <code>${escaped(key)}</code>.</p>`] : []),
      "</article>",
    ].join("\n");
  });
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>${escaped(title)}</h1>
<p>Made ${time(made.toISOString())}. A fingerprint stands for exactly one look: SHA-256 over its settings as RFC 8785 JSON, with the version of the film model. Names are as they were written; nobody\u2019s identity is proven. A signature shows which answers came from the same browser.</p>
${articles.join("\n")}
</body>
</html>
`;
}
