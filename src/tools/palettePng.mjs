import { deflateSync, inflateSync } from "node:zlib";

/**
 * Makes a drawing's PNG small: at most 256 colours, which a drawing with flat colours hardly shows. Formats: W3C
 * Portable Network Graphics, third edition.
 * @param {Buffer} png true colour with 8 bits a channel, not interlaced; its alpha is left out
 * @returns {Buffer}
 */
export function palettePng(png) {
  const { width, height, channels, pixels } = read(png);
  const { palette, nearest } = paletteOf(pixels, channels);
  const rows = Buffer.alloc((width + 1) * height);
  for (let i = 0; i < width * height; i++) {
    rows[i + 1 + Math.floor(i / width)] = nearest(...pixels.subarray(channels * i, channels * i + 3));
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 3, 0, 0, 0], 8);
  return Buffer.concat([
    png.subarray(0, 8),
    chunk("IHDR", header),
    chunk("PLTE", Buffer.from(palette.flat())),
    chunk("IDAT", deflateSync(rows, { level: 9, memLevel: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

function read(png) {
  const data = [];
  let [width, height, channels] = [0, 0, 0];
  for (let at = 8; at < png.length; ) {
    const length = png.readUInt32BE(at);
    const content = png.subarray(at + 8, at + 8 + length);
    const type = png.toString("latin1", at + 4, at + 8);
    if (type === "IHDR") {
      width = content.readUInt32BE(0);
      height = content.readUInt32BE(4);
      channels = { 2: 3, 6: 4 }[content[9]];
      if (content[8] !== 8 || channels === undefined || content[12] !== 0) {
        throw new Error("a picture in true colour, not interlaced, is needed");
      }
    }
    if (type === "IDAT") data.push(content);
    at += 12 + length;
  }
  const pixels = unfiltered(inflateSync(Buffer.concat(data)), width * channels, height, channels);
  return { width, height, channels, pixels };
}

function unfiltered(rows, stride, height, channels) {
  const pixels = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y++) {
    const filter = rows[y * (stride + 1)];
    for (let x = 0; x < stride; x++) {
      const to = y * stride + x;
      const left = x >= channels ? pixels[to - channels] : 0;
      const up = y > 0 ? pixels[to - stride] : 0;
      const corner = x >= channels && y > 0 ? pixels[to - stride - channels] : 0;
      const foretold = [0, left, up, (left + up) >> 1, paeth(left, up, corner)][filter];
      pixels[to] = rows[y * (stride + 1) + 1 + x] + foretold;
    }
  }
  return pixels;
}

function paeth(left, up, corner) {
  const estimate = left + up - corner;
  const [a, b, c] = [left, up, corner].map((value) => Math.abs(estimate - value));
  if (a <= b && a <= c) return left;
  return b <= c ? up : corner;
}

/** The colours that most pixels have, after rounding to 16 steps a channel, each as the mean of its pixels. */
function paletteOf(pixels, channels) {
  const key = (r, g, b) => ((r >> 4) << 8) | ((g >> 4) << 4) | (b >> 4);
  const sums = new Map();
  for (let i = 0; i < pixels.length; i += channels) {
    const at = key(pixels[i], pixels[i + 1], pixels[i + 2]);
    const sum = sums.get(at) ?? [0, 0, 0, 0];
    for (let channel = 0; channel < 3; channel++) sum[channel] += pixels[i + channel];
    sum[3]++;
    sums.set(at, sum);
  }
  const ranked = [...sums].sort(([, a], [, b]) => b[3] - a[3]);
  const palette = ranked
    .slice(0, 256)
    .map(([, [r, g, b, n]]) => [r, g, b].map((value) => Math.round(value / n)));
  const known = new Map(ranked.slice(0, 256).map(([at], index) => [at, index]));
  const distance = ([r, g, b], [x, y, z]) => (r - x) ** 2 + (g - y) ** 2 + (b - z) ** 2;
  return {
    palette,
    nearest(r, g, b) {
      const at = key(r, g, b);
      if (!known.has(at)) {
        const all = palette.map((colour) => distance(colour, [r, g, b]));
        known.set(at, all.indexOf(Math.min(...all)));
      }
      return known.get(at);
    },
  };
}

function chunk(type, content) {
  const named = Buffer.concat([Buffer.from(type, "latin1"), content]);
  const whole = Buffer.alloc(named.length + 8);
  whole.writeUInt32BE(content.length, 0);
  named.copy(whole, 4);
  whole.writeUInt32BE(checksum(named), named.length + 4);
  return whole;
}

/** CRC-32 of the standard's annex D. */
function checksum(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}
