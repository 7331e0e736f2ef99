import { all } from "./all.mjs";

await all("chromium", { pure: true, share: 3, of: 4 });
