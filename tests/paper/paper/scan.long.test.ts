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

/** A page without what is written in: the lines of its boxes are thin and grey on purpose. */
function without({ pixels, width, height }: Grey, boxes: readonly Box[]): Grey {
  const left = pixels.slice();
  const dot = (mm: number): number => Math.round(mm * PX_PER_MM);
  for (const { x, y, width: wide, height: high } of boxes)
    for (let row = dot(y) - 2; row <= dot(y + high) + 2; row += 1)
      left.fill(255, row * width + dot(x) - 2, row * width + dot(x + wide) + 3);
  return { width, height, pixels: left };
}

/**
 * Dots of a page that are grey, and all eight around them too: the edge of a letter is never three dots wide, a grey letter, line
 * or ground is.
 */
function greyAreas({ pixels, width }: Grey): number {
  const grey = (at: number): boolean => pixels[at]! >= 64 && pixels[at]! <= 191;
  const around = [-width - 1, -width, -width + 1, -1, 1, width - 1, width, width + 1];
  return pixels.reduce((sum, _, at) => sum + Number(grey(at) && around.every((by) => grey(at + by))), 0);
}

describe.each(['kettle', 'cellar', 'card'] as const)('a scan of the %s sheet', (kind) => {
  let pictures: Picture[];
  let boxes: readonly Box[];
  let lines: readonly Box[];

  beforeAll(async () => {
    const path = await desk.write(kind, kind, batch, plan, brewery);
    await layOut(bench.page, path);
    boxes = await measure(bench.page, '.cell.digit, .cell.letter, .tick');
    lines = await measure(bench.page, '.cell, .write, .circle');
    pictures = await pagePictures(bench.browser, path, DPI);
  });

  it('has no colour', () => {
    for (const { tint } of pictures) expect(tint).toBe(0);
  });

  it('is black or white but for edges', () => {
    for (const [at, picture] of pictures.entries()) {
      const page = without(
        picture,
        lines.filter((box) => box.page === at + 1),
      );
      expect(page.pixels.filter((pixel) => pixel < 64).length).toBeGreaterThan(5000);
      expect(greyAreas(page)).toBe(0);
    }
  });

  it('would be told grey by a patch of half a millimetre', () => {
    const { width, height, pixels } = pictures[0]!;
    const spoilt = pixels.slice();
    for (const row of [900, 901, 902]) spoilt.fill(128, row * width + 700, row * width + 703);
    expect(greyAreas({ width, height, pixels: spoilt })).toBeGreaterThan(0);
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
