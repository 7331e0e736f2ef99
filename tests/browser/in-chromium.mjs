import { all } from "./all.mjs";

await all("chromium", { pure: true });
