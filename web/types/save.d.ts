/** What is made to be saved: parts of a picture, packs, examined tables. */

/** What the core finds when it examines a table. */
export interface Health {
  worst: "info" | "minor" | "serious";
  findings: Finding[];
  /** The mistake that was made with the whole table, by name. */
  diagnosis: string | null;
}

export interface Finding {
  check: string;
  severity: Health["worst"];
  what: string;
  place: string;
  measure: string;
  advice: string;
}

/** The same of a file. */
export interface TableHealth extends Health {
  format: string;
  size: number;
  remarks: string[];
  /** What goes in and comes out, and whether that was asked, is in the table's header, or is said by nobody. */
  in: { encoding: string | null; range: string | null; by: SaidBy };
  out: { screen: string; range: string; by: SaidBy };
}

export type SaidBy = "asked" | "header" | "nobody";

/** What a hand-over pack is asked to hold: ids, and looks as JSON. */
export interface PackRequest {
  looks: string[];
  encodings: string[];
  stocks: string[];
  splits: string[];
  /** Encodings of scene code that tables give besides. */
  scene: string[];
  /** Renderings for the display that these undo. */
  undo: string[];
  formats: string[];
  grid: number;
  screen: string;
  outRanges: string[];
}

/** What a hand-over pack would be. */
export interface PackPlan {
  tables: number;
  /** About. */
  zip_bytes: number;
  /** Whether it has an OpenColorIO configuration. */
  has_config: boolean;
  /** Stocks by id and by what people call them. */
  kinds: { stock: string; label: string; encoding: string }[];
}

/** A round of a part of a picture being saved. */
export interface Round {
  /** First row and end of the rows that each strip is made from. */
  needs: [number, number][];
  /** Whether the parts exchange halos after it. */
  gathers: boolean;
  /** Whether it makes the file. */
  last: boolean;
}

/** A layer of what the parts gather, 0 to 2, at half (level 1) or a quarter (level 2) of the picture's size. */
export interface HaloPlane {
  layer: number;
  level: number;
}

/** First rows and ends of what a part has of a plane and of what it needs, and how many numbers a row has. */
export interface HaloRanges {
  own: [number, number];
  wanted: [number, number];
  columns: number;
}

/** Some rows of a plane, for the part beside. */
export interface HaloRows extends HaloPlane {
  first: number;
  values: Float32Array<ArrayBuffer>;
}

