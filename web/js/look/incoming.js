/** Looks and tables that come as files. */

/** @import { LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

import { renderSettings } from "../picture/render-settings.js";
import { verdictOf } from "../pure/health.js";
import { isRecord } from "../pure/kept/check.js";
import { fitted } from "../pure/kept/limits.js";

/**
 * Reads a look that came from elsewhere; a name or note that is too long is shortened.
 * @param {string} text JSON
 * @param {Client} client
 * @returns {Promise<{ look: LookData, said: string }>} rejects with one sentence; said: what was shortened
 */
export async function readIncoming(text, client) {
  let json = text;
  let said = "";
  try {
    const data = JSON.parse(text);
    if (isRecord(data)) {
      const fit = fitted(data);
      said = fit.said;
      if (said) json = JSON.stringify(fit.look);
    }
  } catch {
    // The core says what is wrong with it, and where.
  }
  const { look, notes } = await client.readLook(json);
  return { look, said: [said, ...notes].filter(Boolean).join(" ") };
}

/** @typedef {ReturnType<typeof createIncoming>} Incoming */

/**
 * @param {{ store: Store, client: Client, notices: Notices }} wiring
 */
export function createIncoming({ store, client, notices }) {
  return {
    /**
     * A table is not opened but examined: one notice with what hurts most.
     * @param {File} file
     */
    async table(file) {
      const { history } = store.get();
      const { format, size, worst, findings } = await client.checkTable(file.name, file, renderSettings(history.present, ""));
      const finding = findings.find(({ severity }) => severity === worst);
      const verdict = verdictOf(worst);
      const words = worst === "info" || !finding ? `${verdict}.` : `${verdict}: ${finding.what} ${finding.advice}`;
      notices.say(`${file.name} is a table (${format}, grid ${size}), so it was examined. ${words}`, { stays: true });
    },

    /** @param {File} file @returns {Promise<LookData>} */
    async look(file) {
      const { look, said } = await readIncoming(await file.text(), client);
      if (said) notices.say(`${file.name}: ${said}`);
      return look;
    },
  };
}
