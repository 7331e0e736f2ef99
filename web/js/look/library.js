/** The looks of Saltmarket: made with care on the demo frames, one file each. */

/** @import { LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */

import { pageFile } from "../page-file.js";

/** What it is for stands in its note; in which light, for what, and which demo frame shows it, here. @typedef {{ id: string, title: string, file: string, note: string, light: "day" | "lamp" | "dusk" | "any", subject: string, frame: string }} LibraryEntry */

const LIST = pageFile("looks/index.json");

/** @param {string | URL} url */
async function fetched(url) {
  const response = await fetch(url).catch(() => null);
  if (!response?.ok) throw new Error("The looks of Saltmarket could not be loaded. Check the connection and try again, or start from a stock.");
  return response;
}

/** @returns {Promise<LibraryEntry[]>} */
export async function libraryList() {
  return (await fetched(LIST)).json();
}

/**
 * The look with this id, checked by the core.
 * @param {string} id
 * @param {Client} client
 * @returns {Promise<LookData>}
 */
export async function libraryLook(id, client) {
  const response = await fetched(new URL(`${id}.json`, LIST));
  const { look } = await client.readLook(await response.text());
  return look;
}
