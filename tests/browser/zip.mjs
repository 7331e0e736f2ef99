// Reading a zip: its central directory, stored and deflated entries (PKWARE's APPNOTE 6.3, 4.3).
import { inflateRawSync } from "node:zlib";

const END = 0x06054b50;
const ENTRY = 0x02014b50;

/**
 * @param {Buffer} zip without a comment at its end
 * @returns {Map<string, Buffer>} contents by path
 */
export function unzip(zip) {
  const end = zip.length - 22;
  if (zip.readUInt32LE(end) !== END) throw new Error("no zip, or one with a comment");
  const files = new Map();
  let at = zip.readUInt32LE(end + 16);
  for (let left = zip.readUInt16LE(end + 10); left > 0; left -= 1) {
    if (zip.readUInt32LE(at) !== ENTRY) throw new Error("the zip's directory is damaged");
    const [method, size] = [zip.readUInt16LE(at + 10), zip.readUInt32LE(at + 20)];
    const [name, extra, comment] = [28, 30, 32].map((place) => zip.readUInt16LE(at + place));
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const bytes = zip.subarray(start, start + size);
    files.set(zip.toString("utf8", at + 46, at + 46 + name), method === 0 ? bytes : inflateRawSync(bytes));
    at += 46 + name + extra + comment;
  }
  return files;
}
