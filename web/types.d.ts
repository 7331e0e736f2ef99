/** Shapes that the page, its workers and the pure modules share. */

export type * from "./types/catalogue.js";
export type * from "./types/lesson.js";
export type * from "./types/look.js";
export type * from "./types/picture.js";
export type * from "./types/review.js";
export type * from "./types/save.js";
export type * from "./types/state.js";
export type * from "./types/tasks.js";
