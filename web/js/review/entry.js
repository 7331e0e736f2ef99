/** Sending for a yes, and taking answers: what the page knows of it before it is wanted. */

/** @import { Catalogue } from "../../types.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Actions } from "../ui/actions.js" */
/** @import { ReviewDesk } from "./sender.js" */

/** @typedef {ReturnType<typeof addReviews>} Reviews */

/**
 * @param {Omit<ReviewDesk, "ledger"> & { catalogue: Catalogue, edits: Edits, actions: Actions }} given
 */
export function addReviews({ actions, ...given }) {
  /** @type {Promise<ReviewDesk & typeof given> | undefined} */
  let desk;
  /** @type {Promise<ReturnType<typeof import("./sender.js").createSender>> | undefined} */
  let sender;
  /** @type {Promise<ReturnType<typeof import("./answers.js").createAnswers>> | undefined} */
  let answers;
  const theDesk = () => (desk ??= import("./ledger.js").then(({ createLedger }) => ({ ...given, ledger: createLedger() })));
  const theSender = () => (sender ??= Promise.all([import("./sender.js"), theDesk()]).then(([{ createSender }, it]) => createSender(it)));
  const theAnswers = () => (answers ??= Promise.all([import("./answers.js"), theDesk()]).then(([{ createAnswers }, it]) => createAnswers(it)));

  actions.add(
    { id: "review", label: "Send for a yes", group: "Look", key: "R", icon: "send", place: "tools", also: "client review sign-off share showcase card link QR", run: async () => (await theSender()).open() },
    { id: "answers", label: "Answers from clients", group: "Look", also: "sign-off approval notes record history", run: async () => (await theAnswers()).open() },
  );

  return {
    /** @param {string} text a file, an address or a message; rejects with one sentence */
    takeAnswer: async (text) => (await theAnswers()).take(text),
  };
}
