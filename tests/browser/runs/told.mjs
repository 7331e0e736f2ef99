// What a desk holds and says of it, and what is missing of it later.

/**
 * What there is at one moment, and what of it the page says is kept.
 * @param {import("puppeteer-core").Page} page
 * @returns {Promise<{ kept: string, slope: number, undos: number, look: string, trouble: string | null, frames: { name: string, kept: string, stage: string }[] }>}
 */
export function told(page) {
  return page.evaluate(() => {
    const row = [...document.querySelectorAll('[data-stage="scan"] [data-step="contrast"] .row')].find((it) => it.querySelector(".row-label")?.textContent === "Slope");
    const named = (it) => it.querySelector(".reel-away").getAttribute("aria-label").replace(/^Take | off the reel$/g, "");
    return {
      kept: document.querySelector(".unkept").dataset.kept,
      slope: Number(row.querySelector(".number").value),
      undos: Number(/(\d+) kept/.exec(document.querySelector('[aria-label="Undo"]').title)[1]),
      look: document.querySelector(".look-name").value,
      trouble: document.querySelector("dialog.trouble[open] > p")?.textContent ?? null,
      frames: [...document.querySelectorAll(".reel-list li")].map((it) => ({ name: named(it), kept: it.dataset.kept, stage: it.dataset.stage })),
    };
  });
}

/** Sets the slope of the contrast, as a person types it. */
export async function setSlope(page, value) {
  await page.evaluate((text) => {
    const row = [...document.querySelectorAll('[data-stage="scan"] [data-step="contrast"] .row')].find((it) => it.querySelector(".row-label")?.textContent === "Slope");
    const number = row.querySelector(".number");
    number.value = text;
    number.dispatchEvent(new Event("input", { bubbles: true }));
    number.dispatchEvent(new Event("change", { bubbles: true }));
  }, value.toFixed(2));
}

/**
 * What is missing of what was said to be kept.
 * @param {import("puppeteer-core").Page} page
 * @param {Awaited<ReturnType<typeof told>>} before
 * @param {{ open?: boolean }} [how] open: whether every frame is opened as well
 * @returns {Promise<string[]>}
 */
export async function losses(page, before, { open = true } = {}) {
  const after = await told(page);
  const lost = after.trouble ? [after.trouble] : [];
  const kept = before.frames.filter((frame) => frame.kept === "yes").map(({ name }) => name);
  const there = after.frames.map(({ name }) => name);
  for (const name of kept) if (!there.includes(name)) lost.push(`frame ${name}`);
  if (before.kept === "yes") {
    if (after.slope !== before.slope) lost.push(`slope ${before.slope}, now ${after.slope}`);
    if (after.undos < before.undos) lost.push(`${before.undos} steps, now ${after.undos}`);
  }
  if (open) for (const name of kept.filter((it) => there.includes(it))) lost.push(...(await unopened(page, name)));
  return lost;
}

/** Chooses a frame: its original must be there as well. */
async function unopened(page, name) {
  const outcome = await page.evaluate((label) => {
    const tile = [...document.querySelectorAll(".reel-list li")].find((it) => it.querySelector(".reel-away").getAttribute("aria-label") === `Take ${label} off the reel`);
    tile.querySelector(".reel-frame").click();
    const said = [`Picture ${label}`, `${label} could not be opened`];
    return new Promise((resolve) => {
      const look = () => {
        const words = document.querySelector(".pane").getAttribute("aria-label");
        if (said.includes(words)) resolve(words);
        else setTimeout(look, 10);
      };
      look();
    });
  }, name);
  return outcome.startsWith("Picture ") ? [] : [`the original of ${name}`];
}
