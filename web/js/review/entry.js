/** Sending for a yes, and taking answers: what the page knows of it before it is wanted. */

/** @import { Catalogue } from "../../types.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Actions } from "../ui/actions.js" */
/** @import { ReviewDesk } from "./sender.js" */

import { once } from "../once.js";

/** @typedef {ReturnType<typeof addReviews>} Reviews */

/**
 * @param {Omit<ReviewDesk, "ledger"> & { catalogue: Catalogue, edits: Edits, actions: Actions }} given
 */
export function addReviews({ actions, ...given }) {
  const theDesk = once(async () => ({ ...given, ledger: (await import("./ledger.js")).createLedger() }));
  const theSender = once(() => Promise.all([import("./sender.js"), theDesk()]).then(([{ createSender }, it]) => createSender(it)));
  const theAnswers = once(() => Promise.all([import("./answers.js"), theDesk()]).then(([{ createAnswers }, it]) => createAnswers(it)));

  actions.add(
    { id: "review", label: "Send for a yes", group: "Look", key: "R", icon: "send", place: "tools", also: "client review sign-off share showcase card link QR", run: async () => (await theSender()).open() },
    { id: "answers", label: "Answers from clients", group: "Look", also: "sign-off approval notes record history", run: async () => (await theAnswers()).open() },
  );

  return {
    /** @param {string} text a file, an address or a message; rejects with one sentence */
    takeAnswer: async (text) => (await theAnswers()).take(text),
  };
}
