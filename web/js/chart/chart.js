/** Chart check: where the chart lies in each frame, what it says, and what is shown of both. */

/** @import { ChartCheck, ChartCorners, ReelFrame, SmallCopy, Value } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

import { Superseded } from "../bridge/bridge.js";
import { takeTrim } from "../look/take-trim.js";
import { renderSettings } from "../picture/render-settings.js";
import { BEGUN, csvOf, markedAt } from "../pure/chart.js";
import { defaultOf, stageSettings, stepSettings } from "../pure/settings.js";
import { fileStem } from "../save/download.js";
import { find } from "../ui/dom.js";
import { createCard } from "./card.js";
import { createMarks } from "./marks.js";

/** What the core looks at. */
const BOX = { width: 640, height: 640 };

/** @typedef {ReturnType<typeof createChart>} Chart */

/**
 * Where a frame's chart lies: nowhere as long as it is looked for. `missed`: it was not found, so its marks wait to be put there.
 * @typedef {{ corners: ChartCorners | null, by: "search" | "hand" | "missed" }} Marked
 */

/** What stands in the table: of which frame, or why there is nothing. @typedef {{ of: string, check: ChartCheck | null, says: string }} Read */

/**
 * @typedef {{ store: Store, bridge: Bridge, client: Client, edits: Edits, notices: Notices, download: import("../save/download.js").Download,
 *   frame: () => ReelFrame | null, opening: Element }} Wiring opening: where the picture lies; frame: the one that the bridge's worker holds
 */

/** @param {Wiring} wiring */
export function createChart({ store, bridge, client, edits, notices, download, frame, opening }) {
  /** By frame. @type {Map<string, Marked>} */
  const marked = new Map();
  /** @type {Read | null} */
  let read = null;
  /** @type {{ of: string, copy: SmallCopy } | null} */
  let held = null;
  let busy = false;
  let done = "";

  const card = createCard({
    onfind: lookFor,
    onmark: () => mark({ corners: frameMarks()?.corners ?? BEGUN, by: "hand" }),
    onaway: () => mark(null),
    ontake: take,
    onsave: () => read?.check && download(`${fileStem(frame()?.name ?? "picture")} chart.csv`, csvOf(frame()?.name ?? "", read.check), "text/csv"),
  });
  const marks = createMarks((which, to) => {
    const corners = frameMarks()?.corners;
    if (corners) mark({ corners: markedAt(corners, which, to), by: "hand" });
  });
  find("#instruments", HTMLElement).append(card.el);
  opening.append(marks.el);

  const frameMarks = () => marked.get(frame()?.id ?? "");
  const nameOf = (/** @type {ReelFrame} */ { id, clip }) => `${id} ${clip?.number ?? ""}`;

  /** @param {Marked | null} to */
  function mark(to) {
    const id = frame()?.id;
    if (id === undefined) return;
    if (to) marked.set(id, to);
    else marked.delete(id);
    show();
    work();
  }

  function lookFor() {
    done = "";
    mark({ corners: null, by: "search" });
  }

  /** What the trim has, and what the chart asks for where it is another. */
  function asked() {
    const { catalogue, history: { present } } = store.get();
    const current = frame();
    const trim = read?.check?.trim;
    if (!catalogue || !current || !trim) return [];
    const settings = stepSettings(stageSettings(present, "intake", current.id), "trim");
    const wishes = /** @type {[string, Value][]} */ ([["exposure", trim.exposure], ["kelvin", trim.kelvin], ["tint", trim.tint], ["on", true], ["amount", 1]]);
    return wishes.filter(([control, value]) => (settings[control] ?? defaultOf(catalogue, { stage: "intake", step: "trim", control })) !== value);
  }

  function take() {
    const current = frame();
    if (current) takeTrim({ store, edits }, { id: current.id, changes: asked(), made: `exposure and light of ${current.name} by its chart` });
  }

  /** What is to be read now, if anything: of which frame, where, and through what. */
  function wanted() {
    const { panel, moving, dragging, history } = store.get();
    const current = frame();
    const at = frameMarks();
    if (!current?.info || !at || at.by === "missed" || panel !== "instruments") return null;
    // The picture itself comes first as long as it changes.
    if (moving !== "no" || dragging) return null;
    const [of, settings] = [nameOf(current), renderSettings(history.present, current.id)];
    return { id: current.id, of, corners: at.corners, settings, key: JSON.stringify([of, at.corners, settings]) };
  }

  /** @param {{ id: string, of: string }} frame */
  async function copyOf({ id, of }) {
    if (held?.of !== of) held = { of, copy: await bridge.ask("copy", { id, box: BOX }) };
    return held.copy;
  }

  /** @param {NonNullable<ReturnType<typeof wanted>>} wish */
  async function readOnce({ id, of, corners, settings }) {
    const answer = await client.checkChart({ copy: await copyOf({ id, of }), settings, marks: corners });
    if (!marked.has(id)) return;
    const check = "check" in answer ? answer.check : null;
    read = { of, check, says: "says" in answer ? answer.says : "" };
    if (corners !== null) return;
    marked.set(id, check ? { corners: check.corners, by: "search" } : { corners: BEGUN, by: "missed" });
    // What was found is read already.
    if (check) done = JSON.stringify([of, check.corners, settings]);
    show();
    card.el.scrollIntoView({ block: "start", inline: "start" });
  }

  async function work() {
    if (busy) return;
    busy = true;
    for (;;) {
      const wish = wanted();
      if (!wish || wish.key === done) break;
      done = wish.key;
      try {
        await readOnce(wish);
      } catch (error) {
        // The frame was changed meanwhile; what comes next asks again.
        if (error instanceof Superseded) done = "";
        else {
          if (wish.corners === null) marked.delete(wish.id);
          notices.problem(error);
        }
        break;
      }
      show();
    }
    busy = false;
    show();
  }

  function show() {
    const { panel, bare } = store.get();
    const current = frame();
    const at = frameMarks() ?? null;
    const its = read && current && at && read.of === nameOf(current) ? read : null;
    marks.update(panel === "instruments" && !bare ? (at?.corners ?? null) : null, its?.check ?? null);
    card.update({ ready: current !== null, marked: at, check: its?.check ?? null, says: its?.says ?? "", asks: asked().length > 0 });
  }

  store.subscribe(() => {
    show();
    work();
  });
  show();
  return { find: lookFor };
}
