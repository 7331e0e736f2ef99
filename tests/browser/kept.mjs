// What the tests of kept work ask the page.

/** A colour for a number, no two alike up to 216. */
export const colourOf = (i) => [30 + 36 * (i % 6), 30 + 36 * (Math.floor(i / 6) % 6), 30 + 36 * (Math.floor(i / 36) % 6)];

/** The tiles of the reel, as the page tells of them. */
export function tiles(page) {
  return page.$$eval(".reel-list li", (all) =>
    all.map((it) => ({
      name: it.querySelector(".reel-away").getAttribute("aria-label").replace(/^Take | off the reel$/g, ""),
      stage: it.dataset.stage,
      kept: it.dataset.kept,
      current: it.hasAttribute("data-current"),
    })),
  );
}

/** Waits until every frame is there, or failed, and its original is kept, or is said not to be. */
export async function allTold(page) {
  await page.waitForFunction(
    () =>
      [...document.querySelectorAll(".reel-list li")].every(
        ({ dataset: { stage, kept } }) => stage === "failed" || (stage === "ready" && kept !== "waiting"),
      ),
    { polling: 50 },
  );
}

/** Waits until the page says that all work is kept. */
export async function allKept(page) {
  await allTold(page);
  await page.waitForFunction(() => document.querySelector(".unkept")?.hidden, { polling: 20 });
}

/**
 * The newest session as it stands in the browser's store; or puts one there.
 * @param {import("puppeteer-core").Page} page
 * @param {{record: object, steps: object[]}} [content] what is put there in place of all others
 */
export async function keptStore(page, content) {
  // As text: not every browser's protocol takes objects as deep as these.
  const text = await page.evaluate(async (given) => {
    const wanted = JSON.parse(given);
    const done = (request) => new Promise((resolve, reject) => Object.assign(request, { onsuccess: () => resolve(request.result), onerror: () => reject(request.error) }));
    const database = await done(indexedDB.open("lookwright"));
    const transaction = database.transaction(["sessions", "steps", "asides"], "readwrite");
    const [sessions, steps, asides] = ["sessions", "steps", "asides"].map((name) => transaction.objectStore(name));
    const ended = new Promise((resolve) => (transaction.oncomplete = resolve));
    let found = null;
    if (wanted) {
      for (const store of [sessions, steps, asides]) store.clear();
      sessions.put(wanted.record);
      wanted.steps.forEach((step) => steps.put(step));
      sessionStorage.setItem("lookwright.session", wanted.record.id);
      localStorage.clear();
    } else {
      const records = await done(sessions.getAll());
      const record = records.sort((a, b) => b.changed - a.changed)[0];
      const all = await done(steps.getAll());
      found = { record, steps: all.filter(({ session }) => session === record.id) };
    }
    await ended;
    database.close();
    return JSON.stringify(found);
  }, JSON.stringify(content ?? null));
  return JSON.parse(text);
}

/** The frames whose originals lie in the browser's private file system, as ids. */
export function originalsKept(page) {
  return page.evaluate(async () => {
    const ids = [];
    const root = await (await navigator.storage.getDirectory()).getDirectoryHandle("originals", { create: true });
    for await (const session of root.values()) for await (const id of session.keys()) ids.push(id);
    return ids.sort();
  });
}

/**
 * What is wrong with the frame on screen, once nothing is being opened: the current tile, the pane's
 * name and the pixels must be of one frame. Frames `cN.png` and `cN.jpg`, flat in their middle, show a colour that no other has, and
 * so does its small picture.
 * @param {import("puppeteer-core").Page} page
 * @returns {Promise<string | null>}
 */
export async function wrongFrame(page) {
  await page.waitForSelector('.pane[aria-busy="false"]');
  return page.evaluate(() => {
    const tile = document.querySelector(".reel-list li[data-current]");
    const name = tile?.querySelector(".reel-away").getAttribute("aria-label").replace(/^Take | off the reel$/g, "");
    const said = document.querySelector(".pane").getAttribute("aria-label");
    if (said !== `Picture ${name}`) return `tile ${name}, pane ${said}`;
    const middle = (canvas) => [...canvas.getContext("2d").getImageData(canvas.width / 2, canvas.height / 2, 1, 1).data];
    const [shown, small] = [middle(document.querySelector(".side-after .preview")), middle(tile.querySelector(".thumb"))];
    // Grain makes pixels differ; other frames differ by more.
    const far = Math.max(...shown.map((value, i) => Math.abs(value - small[i])));
    return /^c\d+\.(png|jpg)$/.test(name) && small[3] > 0 && far > 40 ? `${name}: shows ${shown}, its tile ${small}` : null;
  });
}

/**
 * Clicks tiles at random.
 * @param {import("puppeteer-core").Page} page
 * @param {{clicks: number, least: number, most: number, seed: number}} how least, most: ms between clicks
 * @returns {Promise<{wrong: string[], checked: number}>} what was wrong whenever the clicks rested
 */
export async function wander(page, { clicks, least, most, seed }) {
  let state = seed;
  const random = () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  const wrong = [];
  let checked = 0;
  for (let i = 0; i < clicks; i += 1) {
    const pick = random();
    const clicked = await page.$$eval(".reel-frame", (all, share) => {
      const tile = all[Math.floor(share * all.length)];
      tile.click();
      return tile.parentElement.querySelector(".reel-away").getAttribute("aria-label").replace(/^Take | off the reel$/g, "");
    }, pick);
    await new Promise((resolve) => setTimeout(resolve, least + random() * (most - least)));
    if (i % 4 < 3 && i < clicks - 1) continue;
    const fault = await wrongFrame(page);
    const said = await page.$eval(".pane", (it) => it.getAttribute("aria-label"));
    checked += 1;
    if (fault) wrong.push(`click ${i}: ${fault}`);
    else if (said !== `Picture ${clicked}`) wrong.push(`click ${i}: ${clicked} was clicked, ${said} is shown`);
  }
  return { wrong, checked };
}

/**
 * The store as the first release left it; runs in a page of an empty browser.
 * @param {{ slope: number, name: string, frames: { id: string, name: string, bytes: number[] }[], vanished: boolean }} work
 *   vanished: whether there is a demo frame that is no more
 */
export function firstRelease({ slope, name, frames, vanished }) {
  return new Promise((resolve, reject) => {
    const drop = indexedDB.deleteDatabase("lookwright");
    drop.onerror = reject;
    drop.onsuccess = () => {
      const open = indexedDB.open("lookwright", 1);
      open.onupgradeneeded = () => ["session", "bytes"].forEach((store) => open.result.createObjectStore(store));
      open.onerror = reject;
      open.onsuccess = () => {
        const transaction = open.result.transaction(["session", "bytes"], "readwrite");
        const settings = Object.fromEntries(frames.map(({ id }) => [id, { trim: { exposure: -0.5 } }]));
        const doc = { look: { lookwright: 1, name, scan: { contrast: { slope } } }, delivery: {}, frames: settings };
        const reel = frames.map((frame) => ({ id: frame.id, name: frame.name, initial: {} }));
        if (vanished) reel.push({ id: "demo-gone", name: "Vanished", url: "/demo/vanished.png", initial: {} });
        transaction.objectStore("session").put({ doc, reel, current: reel[0]?.id ?? null, instruments: true }, "now");
        for (const { id, bytes } of frames) transaction.objectStore("bytes").put(Uint8Array.from(bytes), id);
        transaction.oncomplete = () => (open.result.close(), resolve());
      };
    };
  });
}
