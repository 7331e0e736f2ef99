// Loads the core and shows which one it is.
import init, { version } from "../pkg/lookwright_wasm.js";

await init();
document.querySelector("#version").textContent = version();
