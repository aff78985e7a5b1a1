import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { batch, brewery, plan } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Bench, type Box, layOut, measure, openBench } from './open-sheet.ts';
import { type Grey, type Picture, pagePictures } from './pictures.ts';

/** Half of the 300 dots to the inch that an office scanner takes. */
const DPI = 150;
const PX_PER_MM = DPI / 25.4;
/** A scanner that knows only black and white cuts in the middle. */
const MIDDLE = 128;

let folder: string;
let desk: Desk;
let bench: Bench;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'scan-'));
  desk = await openDesk(folder);
  bench = await openBench();
});

afterAll(async () => {
  await bench?.close();
  await rm(folder, { recursive: true, force: true });
});

const isBlack = ({ pixels, width }: Grey, x: number, y: number): boolean =>
  (pixels[Math.round(y) * width + Math.round(x)] ?? 255) < MIDDLE;

/** True where a line across the edge meets black within a dot and a half of where the edge is. */
function hasEdge(picture: Grey, x_mm: number, y_mm: number, across: 'x' | 'y'): boolean {
  const reach = [-2, -1, 0, 1, 2];
  return reach.some((by) =>
    isBlack(
      picture,
      x_mm * PX_PER_MM + (across === 'x' ? by : 0),
      y_mm * PX_PER_MM + (across === 'y' ? by : 0),
    ),
  );
}

function isWhole(picture: Grey, { x, y, width, height }: Box): boolean {
  return [0.25, 0.5, 0.75].every(
    (part) =>
      hasEdge(picture, x, y + height * part, 'x') &&
      hasEdge(picture, x + width, y + height * part, 'x') &&
      hasEdge(picture, x + width * part, y, 'y') &&
      hasEdge(picture, x + width * part, y + height, 'y') &&
      !isBlack(picture, (x + width * part) * PX_PER_MM, (y + height / 2) * PX_PER_MM),
  );
}

describe.each(['kettle', 'cellar', 'card'] as const)('a scan of the %s sheet', (kind) => {
  let pictures: Picture[];
  let boxes: readonly Box[];

  beforeAll(async () => {
    const path = await desk.write(kind, kind, batch, plan, brewery);
    await layOut(bench.page, path);
    boxes = await measure(bench.page, '.cell.digit, .cell.letter, .tick');
    pictures = await pagePictures(bench.browser, path, DPI);
  });

  it('has no colour', () => {
    for (const { tint } of pictures) expect(tint).toBe(0);
  });

  it('is black or white but for the edges of letters', () => {
    for (const { pixels } of pictures) {
      const black = pixels.filter((pixel) => pixel < 64).length;
      const between = pixels.filter((pixel) => pixel >= 64 && pixel <= 191).length;
      expect(black).toBeGreaterThan(5000);
      // A letter of 12 pt has an edge of a dot or two around strokes of three: half as much at most.
      expect(between / black).toBeLessThan(0.5);
    }
  });

  it('keeps every box whole in black and white at half a scanner’s dots', () => {
    if (kind !== 'card') expect(boxes.length).toBeGreaterThan(30);
    for (const box of boxes) {
      const picture = pictures[box.page - 1];
      const at = `page ${box.page}, ${box.x.toFixed(1)} ${box.y.toFixed(1)} mm`;
      expect(picture !== undefined && isWhole(picture, box), at).toBe(true);
    }
  });
});
