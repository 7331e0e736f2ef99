/** Signs drawn for this page: one for each stage's node on the beam, and a few for buttons. */

import { svg } from "./dom.js";

/** Each sign is a list of paths in a 24 x 24 field, drawn as lines. */
const SIGNS = /** @type {const} */ ({
  intake: ["M12 8.2a3.8 3.8 0 1 1 0 7.6 3.8 3.8 0 0 1 0-7.6", "M12 2.5v2.4M12 19.1v2.4M2.5 12h2.4M19.1 12h2.4M5.3 5.3 7 7M17 17l1.7 1.7M5.3 18.7 7 17M17 7l1.7-1.7"],
  lens: ["M12 3.5c3.4 2.5 5 5.300 5 8.500s-1.600 6-5 8.500c-3.400-2.500-5-5.300-5-8.500s1.600-6 5-8.500", "M3 12h2.500M18.500 12H21"],
  negative: ["M4 5.500h16v13H4z", "M8.500 5.500v13M12 5.500v13M15.500 5.500v13"],
  scan: ["M4.500 6.500h15v11h-15z", "M2.500 12h19", "M8 9.200h8M8 14.800h8"],
  print: ["M4.500 4.500h15v15h-15z", "M8.500 8.500h7v7h-7z"],
  screen: ["M3.500 5.500h17v11h-17z", "M9 20h6M12 16.500V20"],
  undo: ["M8.500 5.500 4.500 9.500l4 4", "M5 9.500h9a5 5 0 0 1 0 10h-3"],
  redo: ["M15.500 5.500l4 4-4 4", "M19 9.500h-9a5 5 0 0 0 0 10h3"],
  reset: ["M6.500 7.500A7.500 7.500 0 1 1 4.600 13", "M6.500 3.500v4h4"],
  close: ["M6 6l12 12M18 6 6 18"],
  open: ["M3.500 18.500v-12h6l2 2.500h9v9.500z", "M12 17v-5M9.500 14.300l2.500-2.500 2.500 2.500"],
  scopes: ["M3.500 18.500h17", "M5 15.500c2 0 2.500-8 5-8s2.500 5.500 4.500 5.500 2-4 4.500-4"],
  add: ["M12 5v14M5 12h14"],
  camera: ["M3.500 8h4l1.800-2.500h5.400L16.500 8h4v10.500h-17z", "M12 10a3.200 3.200 0 1 1 0 6.400 3.200 3.200 0 0 1 0-6.400"],
  play: ["M8 5.500v13l10-6.500z"],
  pause: ["M8.500 6v12M15.500 6v12"],
  back: ["M14.500 6.500 9 12l5.500 5.500", "M18.500 6.500v11"],
  forward: ["M9.500 6.500 15 12l-5.500 5.500", "M5.500 6.500v11"],
  left: ["M14.500 6.500 9 12l5.500 5.500"],
  compare: ["M3.500 5.500h7.500v6H3.500zM13 5.500h7.500v6H13zM3.500 13.500h7.500v5H3.500zM13 13.500h7.500v5H13z"],
  send: ["M4 12l16-7-5 15-3.500-6.500z", "M11.500 13.500 20 5"],
  sides: ["M4 5.500h16v13H4z", "M12 3v18"],
  frames: ["M4 7h16v10H4z", "M8 7v10M16 7v10"],
  full: ["M4.500 9V4.500H9M15 4.500h4.500V9M19.500 15v4.500H15M9 19.500H4.500V15"],
  bare: ["M4.500 4.500h15v15h-15z"],
  looks: ["M4 5.500h4.500v5H4zM9.800 5.500h4.500v5H9.800zM15.500 5.500H20v5h-4.500zM4 13.500h4.500v5H4zM9.800 13.500h4.500v5H9.800zM15.500 13.500H20v5h-4.500z"],
  find: ["M10.500 4.500a6 6 0 1 1 0 12 6 6 0 0 1 0-12", "M15 15l5 5"],
  help: ["M9 9.200a3 3 0 1 1 4.500 2.600c-1 .600-1.500 1.200-1.500 2.400", "M12 17.600v.100"],
  history: ["M12 4.500a7.500 7.500 0 1 1-7.300 5.800", "M4.500 5.500v5h5", "M12 8v4.500l3 2"],
  menu: ["M5 7h14M5 12h14M5 17h14"],
  fold: ["M9.500 6.500 15 12l-5.500 5.500"],
});

/** @typedef {keyof typeof SIGNS} Sign */

/**
 * @param {Sign} name
 * @returns {SVGSVGElement} decoration: its meaning must be said in words beside it
 */
export function icon(name) {
  const paths = SIGNS[name].map((d) => svg("path", { d }));
  return svg("svg", { viewBox: "0 0 24 24", class: "icon", "aria-hidden": "true" }, ...paths);
}
