/** Grey pictures: one byte a pixel, 0 black, 255 white. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** More than phones take: whoever decodes a picture would need half a gigabyte. */
const MAX_PIXELS = 110_000_000;
/** Below this a box of the paper has too few pixels for a digit. */
const MIN_LONG_SIDE = 1000;
/** Pixels along the longer side that are enough to read by: eight a millimetre. */
const LONG_SIDE = 2400;

export type WrongSize = 'too-large' | 'too-small';

/** The size to which a picture is brought before it is read, in the decoder where that can be; or why it is not read. */
export function readingSize(
  width: number,
  height: number,
): { readonly width: number; readonly height: number } | WrongSize {
  const long = Math.max(width, height);
  if (width * height > MAX_PIXELS) return 'too-large';
  if (long < MIN_LONG_SIDE) return 'too-small';
  const share = Math.min(1, LONG_SIDE / long);
  return { width: Math.max(1, Math.round(width * share)), height: Math.max(1, Math.round(height * share)) };
}

/** Grey of four bytes a pixel, as a canvas gives them: luma of ITU-R BT.601. */
export function greyOf(width: number, height: number, rgba: ArrayLike<number>): Grey {
  const pixels = new Uint8Array(width * height);
  for (let i = 0, at = 0; i < pixels.length; i += 1, at += 4)
    pixels[i] = Math.round(0.299 * rgba[at]! + 0.587 * rgba[at + 1]! + 0.114 * rgba[at + 2]!);
  return { width, height, pixels };
}

/** Half as wide and half as high. */
export function half({ width, height, pixels }: Grey): Grey {
  const [w, h] = [width >> 1, height >> 1];
  const out = new Uint8Array(w * h);
  for (let y = 0; y < h; y += 1)
    for (let x = 0, at = 2 * y * width; x < w; x += 1, at += 2)
      out[y * w + x] =
        (pixels[at]! + pixels[at + 1]! + pixels[at + width]! + pixels[at + width + 1]! + 2) >> 2;
  return { width: w, height: h, pixels: out };
}

/** The grey between pixels, linear in both directions; beyond the edge the edge goes on. */
export function sample({ width, height, pixels }: Grey, x: number, y: number): number {
  const cx = Math.min(Math.max(x, 0), width - 1.001);
  const cy = Math.min(Math.max(y, 0), height - 1.001);
  const [i, j] = [Math.floor(cx), Math.floor(cy)];
  const [a, b] = [cx - i, cy - j];
  const at = j * width + i;
  const top = pixels[at]! * (1 - a) + pixels[at + 1]! * a;
  const bottom = pixels[at + width]! * (1 - a) + pixels[at + width + 1]! * a;
  return top * (1 - b) + bottom * b;
}
