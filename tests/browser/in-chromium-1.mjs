import { all } from "./all.mjs";

await all("chromium", { pure: true, share: 1, of: 4 });
