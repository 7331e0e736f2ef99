/** The core as the worker sees it: what `cargo xtask web` makes of `crates/wasm`. */
declare module "lookwright-core" {
  export default function init(options: { module_or_path: WebAssembly.Module }): Promise<{ memory: WebAssembly.Memory }>;
  export function catalogue(): Omit<import("./types.js").Catalogue, "handOver">;
  export function read_look(json: string): { canonical: string; pretty: string; fingerprint: string };
  export function starting_look(stock: string): string;
  export function contrast_curve(step: string): { samples: number[]; pivot: number };
  export function curve_samples(points: Float64Array): Float32Array;
  export function cube_table(look: string, delivery: string, encoding: string, grid: number): string;

  export function scan_scale(look: string, delivery: string, step: string): import("./types.js").ScanScale;
  export function hand_over_choices(): import("./types.js").Catalogue["handOver"];
  export function pack_plan(request: object): import("./types.js").PackPlan;
  export function pack_health(request: object, kind: number): import("./types.js").Health;
  export class PackFrames {
    add(bytes: Uint8Array, name: string, frame: string): void;
  }
  /** Takes the frames over. */
  export function pack(request: object, frames: PackFrames, step: (done: number, total: number, path: string) => boolean): Uint8Array<ArrayBuffer>;
  export function check_table(bytes: Uint8Array, name: string, delivery: string): import("./types.js").TableHealth;

  /** Renders the frames of a clip while it plays. */
  export class Player {
    frame(look: string, frame: string, delivery: string, stage: string, rgba: Uint8ClampedArray, width: number, height: number, fullWidth: number, fullHeight: number, number: number): Uint8ClampedArray<ArrayBuffer>;
  }

  export class PicturePart {
    static begin(look: string, frame: string, delivery: string, format: string, quality: number, width: number, height: number, index: number, count: number, number: number): PicturePart | undefined;
    needs(): Uint32Array;
    step(bits: number, bytes: Uint8Array): Uint8Array<ArrayBuffer>;
    done(): number;
    gathers(): boolean;
    is_last(): boolean;
    offer(layer: number, level: number): Uint32Array;
    told(layer: number, level: number, first: number, end: number): Float32Array<ArrayBuffer>;
    hear(layer: number, level: number, first: number, values: Float32Array): void;
    close(layer: number): void;
    next_round(): boolean;
    /** Takes the part over. */
    finish(): Uint8Array<ArrayBuffer>;
  }

  export class Picture {
    static open(bytes: Uint8Array, name: string): Picture;
    static from_rgba8(rgba: Uint8ClampedArray, width: number, height: number, name: string, number: number): Picture;
    set_number(number: number): void;
    static from_copy(code: Float32Array, width: number, height: number, fullWidth: number, fullHeight: number): Picture;
    static vector_side(): number;
    free(): void;
    info(): import("./types.js").PictureInfo;
    small_copy(width: number, height: number): Float32Array<ArrayBuffer>;
    preview(look: string, frame: string, delivery: string, stage: string, width: number, height: number, quick: boolean): Uint8ClampedArray<ArrayBuffer>;
    detail(look: string, frame: string, delivery: string, stage: string, x: number, y: number, width: number, height: number): Uint8ClampedArray<ArrayBuffer>;
    scopes(look: string, frame: string, delivery: string, width: number, height: number): [Uint8ClampedArray<ArrayBuffer>, Uint8ClampedArray<ArrayBuffer>, Uint32Array<ArrayBuffer>];
    trace(look: string, frame: string, delivery: string, x: number, y: number): import("./types.js").TraceRow[];
    number(): number;
    sample_bits(): number;
    rows(first: number, end: number, room?: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer>;
    plate(look: string, frame: string, delivery: string, kind: string): Uint8Array<ArrayBuffer>;
  }
}
