/** The window's shapes for which the page is laid out differently, as its style sheets have them. */

/** A phone, upright or sideways: one control at a time. */
export const PHONE = matchMedia("(max-width: 599px), (max-height: 499px) and (min-aspect-ratio: 4/3)");
/** A desk: frames and instruments have a place of their own beside the panel. */
export const DESK = matchMedia("(min-width: 1200px) and (min-height: 500px)");
/** Upright, from a phone to a tablet: two wide pictures stand one above the other. */
export const UPRIGHT = matchMedia("(max-width: 899px) and (max-aspect-ratio: 1/1)");
