import { type Grey, half } from './grey.ts';
import { type Homography, sampleAt } from './homography.ts';
import type { BoxMm } from './strip.ts';

/** What the network sees of a box: rows by columns, some room around the box. */
export const CROP = { width: 32, height: 40 } as const;
/** Height of a crop as a multiple of the box's. */
const ROOM = 1.25;
/** Paper, and not ink, is at least this share of the crop's brightness order. */
const WHITE_RANK = 0.85;
const whiteOf = (values: Uint8Array): number =>
  Math.max(1, values.slice().sort()[Math.floor(values.length * WHITE_RANK)]!);

/** Ink in and around a box, 0 for the paper's white to 1 for the marks' black, row by row. */
export function cropOf(grey: Grey, view: Homography, box: BoxMm, black: number): Float32Array {
  const perMm = CROP.height / (box.height * ROOM);
  const [width, height] = [CROP.width / perMm, CROP.height / perMm];
  const around = {
    x: box.x + (box.width - width) / 2,
    y: box.y + (box.height - height) / 2,
    width,
    height,
  };
  const { pixels } = half(straighten(grey, view, around, 2 * perMm));
  const white = whiteOf(pixels);
  return Float32Array.from(pixels, (value) => Math.min(1, Math.max(0, (1 - value / white) / (1 - black))));
}

/** A part of the page as it would look from straight above: to be shown, or kept. */
export function straighten(grey: Grey, view: Homography, box: BoxMm, pixelsPerMm: number): Grey {
  const [width, height] = [Math.round(box.width * pixelsPerMm), Math.round(box.height * pixelsPerMm)];
  const pixels = new Uint8Array(width * height);
  for (let j = 0; j < height; j += 1)
    for (let i = 0; i < width; i += 1)
      pixels[j * width + i] = Math.round(
        sampleAt(grey, view, box.x + (i + 0.5) / pixelsPerMm, box.y + (j + 0.5) / pixelsPerMm),
      );
  return { width, height, pixels };
}

/** The same as if it lay in good light. */
export function whitened(grey: Grey): Grey {
  const white = whiteOf(grey.pixels);
  return { ...grey, pixels: grey.pixels.map((value) => Math.min(255, (value * 250) / white)) };
}
