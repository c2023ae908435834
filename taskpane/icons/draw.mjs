// Draws mark.svg as PNG files: node taskpane/icons/draw.mjs. Knows paths of straight lines only.
import { readFileSync, writeFileSync } from "node:fs";
import { crc32, deflateSync } from "node:zlib";

const SIZES = [16, 20, 24, 32, 40, 48, 64, 80];
const BOX = 32;
const SAMPLES = 6;

const svg = readFileSync(new URL("mark.svg", import.meta.url), "utf8");
const strokes = [
  ...svg.matchAll(/<path d="([^"]+)" stroke="#([0-9a-f]{6})" stroke-width="(\d+)"/g),
].map(([, path, colour, width]) => ({
  points: path.match(/[\d.]+ [\d.]+/g).map((point) => point.split(" ").map(Number)),
  colour: [0, 2, 4].map((at) => parseInt(colour.slice(at, at + 2), 16)),
  reach: Number(width) / 2,
}));

for (const size of SIZES) writeFileSync(new URL(`mark-${size}.png`, import.meta.url), png(size));

/** Distance from a point to the line between two others. */
function distance([x, y], [x1, y1], [x2, y2]) {
  const [dx, dy] = [x2 - x1, y2 - y1];
  const along = ((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy);
  const share = Math.max(0, Math.min(1, along));
  return Math.hypot(x - x1 - share * dx, y - y1 - share * dy);
}

/** The colour at a point, or null where nothing is drawn; later strokes lie on top. */
function colourAt(point) {
  const hit = strokes.findLast(({ points, reach }) =>
    points.some((end, index) => index > 0 && distance(point, points[index - 1], end) <= reach),
  );
  return hit ? hit.colour : null;
}

function pixel(column, row, size) {
  const sum = [0, 0, 0];
  let covered = 0;
  for (let sample = 0; sample < SAMPLES * SAMPLES; sample += 1) {
    const x = column + ((sample % SAMPLES) + 0.5) / SAMPLES;
    const y = row + (Math.floor(sample / SAMPLES) + 0.5) / SAMPLES;
    const colour = colourAt([(x * BOX) / size, (y * BOX) / size]);
    if (colour === null) continue;
    covered += 1;
    colour.forEach((part, index) => (sum[index] += part));
  }
  const parts = sum.map((part) => (covered === 0 ? 0 : Math.round(part / covered)));
  return [...parts, Math.round((covered / SAMPLES ** 2) * 255)];
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
  const frame = Buffer.alloc(8);
  frame.writeUInt32BE(data.length, 0);
  frame.writeUInt32BE(crc32(body), 4);
  return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
}

/** PNG, 8 bits a channel with transparency (ISO/IEC 15948). */
function png(size) {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(size, 0);
  header.writeUInt32BE(size, 4);
  header.set([8, 6, 0, 0, 0], 8);
  const rows = Array.from({ length: size }, (_, row) => [
    0,
    ...Array.from({ length: size }, (_, column) => pixel(column, row, size)).flat(),
  ]);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    chunk("IDAT", deflateSync(Buffer.from(rows.flat()), { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}
