import { all } from "./all.mjs";

await all("chromium", { pure: true, share: 2, of: 4 });
