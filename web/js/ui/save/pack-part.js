/** The hand-over pack's part of the save dialog: what goes in, how much, and how healthy it is. */

/** @import { Catalogue, ChoiceControl, ControlEntry, Health, PackPlan, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */

import { healthLines, sizeSaid, tablesSaid } from "../../pure/health.js";
import { findStage, findStep, stageSettings, stepSettings, valueOf } from "../../pure/settings.js";
import { GRIDS, option } from "../controls/option.js";
import { attribute, h, text } from "../dom.js";
import { createChecks } from "./checks.js";

/** Among the stocks: the one that the look is on. */
const OWN = "own";
/** What stands before and after in the pack. */
const SHEETS = [
  { id: "frame", label: "This frame" },
  { id: "none", label: "None" },
];
/** For pipelines that render for the display themselves: the rendering that a table to ACEScct undoes. */
const SCENE = [
  { id: "none", label: "None" },
  { id: "aces", label: "To ACEScct, for a pipeline that renders with ACES 2.0" },
  { id: "plain", label: "To ACEScct, for a pipeline with a plain rendering" },
];

/**
 * @param {Catalogue} catalogue
 * @param {"intake" | "negative" | "screen"} stage
 * @param {string} step
 * @param {string} id
 */
export function choiceOf(catalogue, stage, step, id) {
  return /** @type {ChoiceControl} */ (controlOf(catalogue, stage, step, id));
}

/**
 * @param {Catalogue} catalogue
 * @param {import("../../../types/catalogue.js").StageId} stage
 * @param {string} step
 * @param {string} id
 */
function controlOf(catalogue, stage, step, id) {
  const control = findStep(findStage(catalogue, stage), step).controls.find((it) => it.id === id);
  return /** @type {ControlEntry} */ (control);
}

/**
 * @param {{ catalogue: Catalogue, client: Client, state: () => State, save: HTMLButtonElement,
 *   onproblem: (error: unknown) => void }} wiring save: pressed to save; put off while nothing can be
 */
export function createPackPart({ catalogue, client, state, save, onproblem }) {
  const sourceEncoding = choiceOf(catalogue, "intake", "source", "encoding");
  const [screen, range] = ["screen", "range"].map((id) => choiceOf(catalogue, "screen", "display", id));
  const onchange = () => void plan().catch(onproblem);
  const encodings = createChecks({ label: "For footage in", options: sourceEncoding.options, none: "choose one", onchange });
  const stocks = createChecks({ label: "On stock", options: [{ id: OWN, label: "The look's own" }, ...catalogue.startingStocks], none: "choose one", onchange });
  const splits = createChecks({ label: "Part of the path", options: catalogue.handOver.splits, none: "choose one", onchange });
  const formats = createChecks({ label: "Written as", options: catalogue.handOver.formats, none: "choose one", onchange });
  const scene = option("Scene tables", SCENE, "none", onchange);
  const grid = option("Grid", GRIDS, "33", onchange);
  const contactSheet = option("Contact sheet", SHEETS, "frame");
  const count = h("p", { class: "pack-count" });
  const examined = h("p", { class: "quiet pack-examined" });
  const lines = h("ul", { class: "pack-health", "aria-label": "Health of the tables" });
  const el = h("div", { class: "pack" }, encodings.el, stocks.el, splits.el, formats.el, scene.el, grid.el, contactSheet.el, count, lines, examined);

  /** What was found out before, by all that it depends on. @type {Map<string, Health>} */
  const known = new Map();
  /** Newest plan; an older one is not followed any further. */
  let newest = 0;
  let open = false;

  /** What the frame is in and the look is on: examined first. */
  function own() {
    const { history, current } = state();
    const source = stageSettings(history.present, "intake", current);
    const negative = stageSettings(history.present, "negative", current);
    return {
      encoding: String(valueOf(stepSettings(source, "source"), sourceEncoding)),
      stock: ["balance", "speed"].map((id) => String(valueOf(stepSettings(negative, "stock"), controlOf(catalogue, "negative", "stock", id)))).join("-"),
    };
  }

  function request() {
    const { history, current } = state();
    const display = stepSettings(stageSettings(history.present, "screen", current), "display");
    return {
      looks: [JSON.stringify(history.present.look)],
      encodings: encodings.value(),
      stocks: stocks.value().map((id) => (id === OWN ? own().stock : id)),
      splits: splits.value(),
      ...(scene.value() === "none" ? { scene: [], undo: [] } : { scene: ["acescct"], undo: [scene.value()] }),
      formats: formats.value(),
      grid: Number(grid.value()),
      screen: String(valueOf(display, /** @type {ChoiceControl} */ (screen))),
      outRanges: [String(valueOf(display, /** @type {ChoiceControl} */ (range)))],
    };
  }

  async function plan() {
    newest += 1;
    const mine = newest;
    const asked = request();
    lines.replaceChildren();
    text(examined, "");
    save.disabled = [encodings, stocks, splits, formats].some((checks) => checks.value().length === 0);
    if (save.disabled) return text(count, "Choose at least one of each.");
    /** @type {PackPlan} */
    const planned = await client.packPlan(asked);
    if (mine !== newest) return;
    const { tables, zip_bytes: bytes, kinds } = planned;
    const config = planned.has_config ? "an OpenColorIO configuration, " : "";
    text(count, `${tables} ${tables === 1 ? "table" : "tables"}, about ${sizeSaid(bytes)}, with a note, the look, test charts, ${config}a manifest for programs and check-sums.`);
    const { encoding, stock } = own();
    const nearness = (/** @type {PackPlan["kinds"][number]} */ kind) => Number(kind.encoding === encoding) + 2 * Number(kind.stock === stock);
    const order = kinds.map((kind, index) => ({ ...kind, index })).sort((a, b) => nearness(b) - nearness(a));
    /** @type {{ table: string, health: Health }[]} */
    const found = [];
    for (const kind of order) {
      const { formats: _, stocks: __, encodings: ___, scene: ____, undo: _____, ...rest } = asked;
      const key = JSON.stringify([rest, kind.stock, kind.encoding]);
      const health = known.get(key) ?? (await client.packHealth(asked, kind.index));
      known.set(key, health);
      if (mine !== newest || !open) return;
      found.push({ table: `${encodings.label(kind.encoding)} on ${kind.label}`, health });
      show(found, kinds.length);
    }
  }

  /**
   * @param {{ table: string, health: Health }[]} found
   * @param {number} all
   */
  function show(found, all) {
    lines.replaceChildren(
      ...healthLines(found).map(({ severity, verdict, what, advice, tables }) => {
        const words = what ? `${verdict}: ${what}` : `${verdict}.`;
        const more = severity === "serious" ? ` ${advice}` : "";
        const line = h("li", {}, h("span", { class: "pack-verdict" }, words + more), tableNames(tables));
        attribute(line, "data-severity", severity);
        return line;
      }),
    );
    text(examined, found.length < all ? `Examined ${found.length} of ${all} \u2026` : "");
  }

  return {
    el,
    request,
    withFrame: () => contactSheet.value() === "frame",
    /** @param {string} footage the encoding that tables are most likely wanted for */
    open(footage) {
      open = true;
      if (encodings.value().length === 0) {
        encodings.set([footage]);
        splits.set(["whole"]);
        formats.set(catalogue.handOver.usual);
      }
      if (stocks.value().length <= 1) stocks.set([OWN]);
      return plan();
    },
    /** Ends what would still be examined. */
    close() {
      open = false;
      newest += 1;
    },
  };
}

/** @param {string[]} tables */
function tableNames(tables) {
  const said = tablesSaid(tables);
  if (tables.length <= 2) return h("span", { class: "quiet" }, said);
  return h("details", { class: "quiet pack-tables" }, h("summary", {}, said), tables.slice(2).join("; "));
}
