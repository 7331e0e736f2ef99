import { all } from "./all.mjs";

await all("firefox", { share: 1, of: 2 });
