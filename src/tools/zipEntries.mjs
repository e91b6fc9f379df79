import { inflateRawSync } from "node:zlib";

/**
 * What a ZIP file holds, read from its own directory (PKWARE APPNOTE 6.3, sections 4.3.7, 4.3.12 and 4.3.16).
 * @param {Buffer} zip
 * @returns {{ path: string, packed: number, bytes: Buffer }[]} files, with their size in the archive
 */
export function zipEntries(zip) {
  const end = zip.lastIndexOf(Buffer.from("PK\x05\x06", "latin1"));
  if (end < 0) throw new Error("this is no ZIP file");
  const entries = [];
  let at = zip.readUInt32LE(end + 16);
  for (let count = zip.readUInt16LE(end + 10); count > 0; count--) {
    const packed = zip.readUInt32LE(at + 20);
    const nameLength = zip.readUInt16LE(at + 28);
    const path = zip.toString("utf8", at + 46, at + 46 + nameLength);
    if (!path.endsWith("/")) entries.push({ path, packed, bytes: contentOf(zip, at, packed) });
    at += 46 + nameLength + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return entries;
}

function contentOf(zip, directory, packed) {
  const method = zip.readUInt16LE(directory + 10);
  const local = zip.readUInt32LE(directory + 42);
  const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
  const content = zip.subarray(start, start + packed);
  return method === 0 ? content : inflateRawSync(content);
}
