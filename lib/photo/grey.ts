/** Grey pictures: one byte a pixel, 0 black, 255 white. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** Four bytes a pixel, as a canvas or a JPEG decoder gives them. */
export interface Rgba {
  readonly width: number;
  readonly height: number;
  readonly data: ArrayLike<number>;
}

/** More than any phone's usual picture: its colours alone would take a quarter of a gigabyte. */
export const MAX_PIXELS = 64_000_000;
/** Below this a box of the paper has too few pixels for a digit. */
export const MIN_LONG_SIDE = 1000;
/** Pixels along the longer side that are enough to read by: seven a millimetre. */
const ENOUGH = 2000;

/** By how much a picture is made smaller before it is read: 1, 2, 3 … */
export const shrinkFactor = (width: number, height: number): number =>
  Math.max(1, Math.floor(Math.max(width, height) / ENOUGH));

/**
 * A grey picture of at most 9 megapixels: luma of ITU-R BT.601, larger pictures averaged over whole pixels.
 *
 * Throws a RangeError above `MAX_PIXELS`; callers refuse such a picture by its header, before it is decoded.
 */
export function greyOf({ width, height, data }: Rgba): Grey {
  if (width * height > MAX_PIXELS) throw new RangeError(`${width} by ${height} pixels are too many`);
  const by = shrinkFactor(width, height);
  const [w, h] = [Math.floor(width / by), Math.floor(height / by)];
  const pixels = new Uint8Array(w * h);
  const sums = new Float64Array(w);
  for (let y = 0; y < h; y += 1) {
    sums.fill(0);
    for (let row = y * by; row < (y + 1) * by; row += 1)
      for (let x = 0, at = row * width * 4; x < w * by; x += 1, at += 4)
        sums[Math.floor(x / by)]! += 0.299 * data[at]! + 0.587 * data[at + 1]! + 0.114 * data[at + 2]!;
    for (let x = 0; x < w; x += 1) pixels[y * w + x] = Math.round(sums[x]! / (by * by));
  }
  return { width: w, height: h, pixels };
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
