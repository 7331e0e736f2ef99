import { all } from "./all.mjs";

await all("firefox");
