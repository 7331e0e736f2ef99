/** A teacher's own lesson. */

import type { LookData } from "./look.js";
import type { Pin } from "./state.js";

/** A page of a lesson. */
export interface LessonItem {
  kind: "chapter" | "demonstration";
  /** A stage's, or a demonstration's. */
  id: string;
  note: string;
  /** Name of the frame that it is shown on; the one that is looked at without. */
  frame?: string;
  /** The look that it is shown with; one's own without. */
  look?: LookData;
}

export interface Lesson {
  title: string;
  items: LessonItem[];
  /** Where the worksheet asks for the probe, and the side of the square that is read there. */
  places: Pin[];
  side: number;
}

/** A page of a lesson that is being shown. */
export interface CoursePage {
  item: LessonItem;
  at: number;
  titles: readonly string[];
  items: readonly LessonItem[];
  go: (to: number) => void;
  onclose: () => void;
}
