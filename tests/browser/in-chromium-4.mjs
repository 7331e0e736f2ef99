import { all } from "./all.mjs";

await all("chromium", { pure: true, share: 4, of: 4 });
