import { all } from "./all.mjs";

await all("firefox", { share: 2, of: 2 });
