// PNG by the standard (ISO/IEC 15948), as much of it as the tests need: 8- or 16-bit RGB out, and
// the same without interlace in.
import { crc32, deflateSync, inflateSync } from "node:zlib";

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

function chunk(kind, data) {
  const body = Buffer.concat([Buffer.from(kind, "latin1"), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}

/**
 * @param {number} width
 * @param {number} height
 * @param {(x: number, y: number) => [number, number, number]} code 0 ... 1
 * @returns {Buffer} a 16-bit RGB file
 */
export function encode16(width, height, code) {
  const rows = Buffer.alloc(height * (1 + width * 6));
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      code(x, y).forEach((value, channel) => {
        const at = y * (1 + width * 6) + 1 + x * 6 + channel * 2;
        rows.writeUInt16BE(Math.round(Math.min(1, Math.max(0, value)) * 65535), at);
      });
    }
  }
  return file(width, height, 16, rows);
}

/**
 * @param {number} width
 * @param {number} height
 * @param {[number, number, number]} code 0 ... 255, of every pixel
 * @returns {Buffer} an 8-bit RGB file
 */
export function flat8(width, height, code) {
  const row = Buffer.alloc(1 + width * 3);
  for (let x = 0; x < width; x += 1) row.set(code, 1 + x * 3);
  return file(width, height, 8, Buffer.concat(Array.from({ length: height }, () => row)));
}

/**
 * A picture of noise that takes as many bytes as it has samples.
 * @param {number} width
 * @param {number} height
 * @param {number} seed
 * @returns {Buffer} an 8-bit RGB file
 */
export function noise8(width, height, seed) {
  const rows = Buffer.alloc(height * (1 + width * 3));
  let state = Math.imul(seed + 1, 2654435761) >>> 0;
  for (let i = 0; i < rows.length; i += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    rows[i] = i % (1 + width * 3) === 0 ? 0 : state >>> 24;
  }
  return file(width, height, 8, rows, 0);
}

/**
 * A picture's file made longer by a private chunk (clause 5.4 of the standard), which no reader looks at.
 * @param {Buffer} png
 * @param {number} bytes of the chunk
 * @returns {Buffer}
 */
export function padded(png, bytes) {
  const end = png.length - 12;
  return Buffer.concat([png.subarray(0, end), chunk("ruNs", Buffer.alloc(bytes, 0x5a)), png.subarray(end)]);
}

/**
 * @param {Buffer} png
 * @param {Buffer} icc its colour profile
 * @returns {Buffer}
 */
export function profiled(png, icc) {
  const profile = chunk("iCCP", Buffer.concat([Buffer.from("x\0\0", "latin1"), deflateSync(icc)]));
  const header = SIGNATURE.length + 25;
  return Buffer.concat([png.subarray(0, header), profile, png.subarray(header)]);
}

function file(width, height, bits, rows, level = 6) {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([bits, 2, 0, 0, 0], 8);
  return Buffer.concat([SIGNATURE, chunk("IHDR", header), chunk("IDAT", deflateSync(rows, { level })), chunk("IEND", Buffer.alloc(0))]);
}

/**
 * @param {Buffer} file
 * @returns {{ width: number, height: number, bits: number, codes: Uint16Array }} interleaved RGB
 */
export function decode(file) {
  if (!file.subarray(0, 8).equals(SIGNATURE)) throw new Error("no PNG");
  let header;
  const packed = [];
  for (let at = 8; at < file.length; ) {
    const length = file.readUInt32BE(at);
    const kind = file.toString("latin1", at + 4, at + 8);
    const data = file.subarray(at + 8, at + 8 + length);
    if (kind === "IHDR") header = data;
    if (kind === "IDAT") packed.push(data);
    at += length + 12;
  }
  const [width, height, bits, colour, interlace] = [header.readUInt32BE(0), header.readUInt32BE(4), header[8], header[9], header[12]];
  // A browser's screenshots may have an alpha, which is of no interest.
  const channels = { 2: 3, 6: 4 }[colour];
  if (!channels || interlace !== 0) throw new Error("not plain RGB");
  const bytes = unfilter(inflateSync(Buffer.concat(packed)), width * channels * (bits / 8), height, channels * (bits / 8));
  const codes = new Uint16Array(width * height * 3);
  for (let i = 0; i < codes.length; i += 1) {
    const at = Math.floor(i / 3) * channels + (i % 3);
    codes[i] = bits === 16 ? bytes.readUInt16BE(at * 2) : bytes[at];
  }
  return { width, height, bits, codes };
}

/** Undoes the filters of clause 9 of the standard. */
function unfilter(rows, stride, height, pixel) {
  const out = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y += 1) {
    const filter = rows[y * (stride + 1)];
    for (let i = 0; i < stride; i += 1) {
      const left = i >= pixel ? out[y * stride + i - pixel] : 0;
      const up = y > 0 ? out[(y - 1) * stride + i] : 0;
      const corner = i >= pixel && y > 0 ? out[(y - 1) * stride + i - pixel] : 0;
      const guess = [0, left, up, (left + up) >> 1, paeth(left, up, corner)][filter];
      out[y * stride + i] = rows[y * (stride + 1) + 1 + i] + guess;
    }
  }
  return out;
}

function paeth(left, up, corner) {
  const p = left + up - corner;
  const [a, b, c] = [Math.abs(p - left), Math.abs(p - up), Math.abs(p - corner)];
  if (a <= b && a <= c) return left;
  return b <= c ? up : corner;
}
