import type { Grey } from '../../../lib/photo/grey.ts';
import { type Homography, homography, type Point, project } from '../../../lib/photo/homography.ts';
import type { Layer } from './handwriting.ts';
import type { Random } from './random.ts';

/** How a page is photographed: easy, usual, hard. Angles in degrees, blur in pixels, the others shares or chances. */
const CONDITIONS = {
  tilt: [6, 14, 24],
  turn: [3, 8, 15],
  quarterTurn: [0.1, 0.25, 0.4],
  lens: [0.01, 0.03, 0.05],
  light: [0.25, 0.45, 0.6],
  shadow: [0.3, 0.6, 0.8],
  blurLeast: [0.3, 0.4, 0.8],
  blurMost: [0.8, 1.3, 2.2],
  shake: [0.05, 0.2, 0.5],
  noiseLeast: [1, 2, 5],
  noiseMost: [3, 7, 16],
  jpegLeast: [80, 65, 45],
  jpegMost: [93, 92, 85],
  curl: [0.3, 0.6, 0.9],
  drops: [0.1, 0.3, 0.6],
  dark: [0, 0.1, 0.4],
  cropped: [0, 0.02, 0.1],
} as const;
export const LEVELS = ['easy', 'usual', 'hard'] as const;
export type Level = (typeof LEVELS)[number];
type Conditions = Readonly<Record<keyof typeof CONDITIONS, number>>;

const conditionsOf = (level: Level): Conditions =>
  Object.fromEntries(
    Object.entries(CONDITIONS).map(([name, values]) => [name, values[LEVELS.indexOf(level)]]),
  ) as Conditions;

/** Side of the squares between which geometry and light are interpolated. */
const GRID = 8;
/** Focal length as a multiple of the picture's longer side: a phone's main camera. */
const FOCAL = 1.25;

/** Gentle waves: what a curled or creased page, and light on it, do over the whole page. */
function waves(random: Random, longest: number, count = 3): (x: number, y: number) => number {
  const parts = Array.from({ length: count }, () => {
    const [length, angle] = [longest * random.between(0.4, 1), random.between(0, 6.283)];
    return { u: Math.cos(angle) / length, v: Math.sin(angle) / length, phase: random.between(0, 6.283) };
  });
  return (x, y) =>
    parts.reduce((sum, { u, v, phase }) => sum + Math.sin(6.283 * (x * u + y * v) + phase), 0) / count;
}

/** A soft-edged shadow: what lies on the far side of a line, or within a round shape. */
function shadowOf(random: Random, width: number, height: number): (x: number, y: number) => number {
  const [cx, cy, angle] = [random.between(0, width), random.between(0, height), random.between(0, 6.283)];
  const [soft, depth] = [random.between(8, 100), random.between(0.2, 0.65)];
  const radius = random.chance(0.5) ? random.between(0.15, 0.6) * width : null;
  return (x, y) => {
    const away =
      radius === null
        ? (x - cx) * Math.cos(angle) + (y - cy) * Math.sin(angle)
        : Math.hypot(x - cx, (y - cy) * 0.7) - radius;
    return 1 - depth / (1 + Math.exp(away / soft));
  };
}

/** Adds a share of what lies `by` places further on; beyond the end, of what is there. */
function addMoved(out: Float32Array, values: Float32Array, by: number, share: number): void {
  const [from, end] = [Math.max(0, -by), Math.min(values.length, values.length - by)];
  for (let at = 0; at < from; at += 1) out[at]! += share * values[at]!;
  for (let at = from; at < end; at += 1) out[at]! += share * values[at + by]!;
  for (let at = end; at < values.length; at += 1) out[at]! += share * values[at]!;
}

/** Blurs along rows or columns, `step` pixels from one to the next; rows run on into each other at the edge. */
function blurLines(values: Float32Array, kernel: readonly number[], step: number): Float32Array {
  const reach = kernel.length >> 1;
  const out = new Float32Array(values.length);
  for (const [k, weight] of kernel.entries()) addMoved(out, values, (k - reach) * step, weight);
  return out;
}

function gaussian(sigma: number): number[] {
  const reach = Math.max(1, Math.ceil(sigma * 2.5));
  const raw = Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigma ** 2)),
  );
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map((value) => value / sum);
}

/** The mean along a short way in one direction: a hand that moved while the shutter was open. */
function shaken(values: Float32Array, width: number, dx: number, dy: number): Float32Array {
  const count = Math.max(2, Math.ceil(Math.hypot(dx, dy)));
  const out = new Float32Array(values.length);
  for (let i = 0; i < count; i += 1) {
    const t = i / (count - 1) - 0.5;
    const by = Math.round(dy * t) * width + Math.round(dx * t);
    addMoved(out, values, by, 1 / count);
  }
  return out;
}

/** Luminance table of ITU-T T.81, annex K.1. */
const QUANTISATION = [
  16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22,
  29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103,
  121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
];
/** Cosines of a block's eight frequencies (ITU-T T.81, A.3.3), and the same turned over for the way back. */
const cosines = (back: boolean): Float32Array =>
  Float32Array.from({ length: 64 }, (_, i) => {
    const [frequency, x] = back ? [i & 7, i >> 3] : [i >> 3, i & 7];
    return Math.cos(((2 * x + 1) * frequency * Math.PI) / 16) * (frequency === 0 ? Math.sqrt(1 / 8) : 0.5);
  });
const [FORTH, BACK] = [cosines(false), cosines(true)];

/** Rows of `from` by rows of the matrix, turned over: twice is the transform of a block. */
function multiply(from: Float32Array, matrix: Float32Array, to: Float32Array): void {
  for (let row = 0; row < 64; row += 8)
    for (let k = 0; k < 64; k += 8) {
      let sum = 0;
      for (let i = 0; i < 8; i += 1) sum += from[row + i]! * matrix[k + i]!;
      to[k + (row >> 3)] = sum;
    }
}

/** Loses what JPEG loses at a quality of 1 to 100: the coefficients of each 8 by 8 block are rounded. */
export function jpegLoss({ width, height, pixels }: Grey, quality: number): Grey {
  const scale = quality < 50 ? 50 / quality : 2 - quality / 50;
  const table = Float32Array.from(QUANTISATION, (step) => Math.max(1, Math.round(step * scale)));
  const out = new Uint8ClampedArray(pixels);
  const [block, turned] = [new Float32Array(64), new Float32Array(64)];
  for (let y = 0; y + 8 <= height; y += 8)
    for (let x = 0; x + 8 <= width; x += 8) {
      const corner = y * width + x;
      for (let i = 0; i < 64; i += 1) block[i] = pixels[corner + (i >> 3) * width + (i & 7)]! - 128;
      multiply(block, FORTH, turned);
      multiply(turned, FORTH, block);
      for (let i = 0; i < 64; i += 1) block[i] = Math.round(block[i]! / table[i]!) * table[i]!;
      multiply(block, BACK, turned);
      multiply(turned, BACK, block);
      for (let i = 0; i < 64; i += 1) out[corner + (i >> 3) * width + (i & 7)] = block[i]! + 128;
    }
  return { width, height, pixels: new Uint8Array(out.buffer) };
}

/** From picture to paper in millimetres, for a camera over the paper that shows it whole. */
function cameraOver(
  random: Random,
  paper: { readonly width: number; readonly height: number },
  size: { readonly width: number; readonly height: number },
  { tilt, turn, cropped }: Conditions,
  quarters: number,
): { readonly back: Homography; readonly isCropped: boolean } {
  const focal = FOCAL * Math.max(size.width, size.height);
  const angle = (degrees: number): number =>
    (Math.min(2, Math.max(-2, random.normal(1))) * degrees * Math.PI) / 360;
  const [tx, ty, tz] = [angle(tilt), angle(tilt), angle(turn) + (quarters * Math.PI) / 2];
  const corners = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([x = 0, y = 0]) => {
    const [px, py] = [(x * paper.width) / 2, (y * paper.height) / 2];
    const [ax, ay] = [px * Math.cos(tz) - py * Math.sin(tz), px * Math.sin(tz) + py * Math.cos(tz)];
    const [bx, bz] = [ax * Math.cos(ty), -ax * Math.sin(ty)];
    return { x: bx, y: ay * Math.cos(tx) - bz * Math.sin(tx), z: ay * Math.sin(tx) + bz * Math.cos(tx) };
  });
  const isCropped = random.chance(cropped);
  const room = random.between(0.86, 1) * (isCropped ? 1.12 : 1);
  const seen = (away: number): { x: number; y: number }[] =>
    corners.map(({ x, y, z }) => ({ x: (x / (z + away)) * focal, y: (y / (z + away)) * focal }));
  const range = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)];
  let [near, far] = [200, 5000];
  for (let pass = 0; pass < 40; pass += 1) {
    const away = (near + far) / 2;
    const [[x0, x1], [y0, y1]] = [range(seen(away).map(({ x }) => x)), range(seen(away).map(({ y }) => y))];
    if (Math.max((x1 - x0) / size.width, (y1 - y0) / size.height) > room) near = away;
    else far = away;
  }
  const points = seen(far);
  const [[x0, x1], [y0, y1]] = [range(points.map(({ x }) => x)), range(points.map(({ y }) => y))];
  const aside = (side: number, part: number): number =>
    side / 2 + random.normal(0.008 * side) + (isCropped ? random.pick([-1, 1]) * part * side : 0);
  const [mx, my] = [aside(size.width, 0.1) - (x0 + x1) / 2, aside(size.height, 0.08) - (y0 + y1) / 2];
  const back = homography(
    points.map(({ x, y }) => ({ x: x + mx, y: y + my })),
    [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ].map(([x = 0, y = 0]) => ({ x: x * paper.width, y: y * paper.height })),
  );
  if (back === null) throw new Error('a camera that sees the paper from its edge');
  return { back, isCropped };
}

export interface Photograph extends Grey {
  /** The paper sticks out of the picture. */
  readonly cropped: boolean;
  /** The point of the paper, in millimetres, that a pixel shows. */
  readonly paperAt: (pixel: Point) => Point;
}

/** How bright each point of the paper is: toner and ink on white. */
function inkOnPaper(printed: Layer, ink: Layer, random: Random): Float32Array {
  const white = random.between(0.86, 0.97);
  const toner = 1 - random.between(0.04, 0.16);
  // One in five writes with a pencil.
  const pen = 1 - (random.chance(0.2) ? random.between(0.32, 0.48) : random.pick([0.1, 0.16, 0.24, 0.3]));
  const wave = 1 / (printed.perMm * random.between(1, 3));
  const page = new Float32Array(printed.values.length);
  for (let at = 0; at < page.length; at += 1) {
    let value = white * (1 - printed.values[at]! * toner);
    const wrote = ink.values[at]!;
    if (wrote > 0) value *= 1 - wrote * pen * (1 - 0.12 * Math.sin((at % ink.width) * wave) ** 2);
    page[at] = value;
  }
  return page;
}

/** Values on a grid over the picture: which point of the paper is seen, how bright it is lit, what lies beside it. */
interface Scene {
  readonly columns: number;
  readonly x_mm: Float32Array;
  readonly y_mm: Float32Array;
  readonly light: Float32Array;
  readonly table: Float32Array;
}

function sceneOf(
  random: Random,
  back: Homography,
  { width, height }: { readonly width: number; readonly height: number },
  { curl, lens: lensMost, light: lightMost, shadow, drops: dropChance }: Conditions,
  exposure: number,
): Scene {
  const [columns, rows] = [Math.ceil(width / GRID) + 1, Math.ceil(height / GRID) + 1];
  const grid = (): Float32Array => new Float32Array(columns * rows);
  const scene = { columns, x_mm: grid(), y_mm: grid(), light: grid(), table: grid() };
  const some = <T>(count: number, make: () => T): T[] => Array.from({ length: count }, make);
  const curled = random.chance(curl);
  const bend = curled ? random.between(0.3, 1.3) : 0;
  const [bendX, bendY, crease] = [waves(random, 350), waves(random, 350), waves(random, 220)];
  const lens = random.between(-lensMost, lensMost);
  const [angle, depth] = [random.between(0, 6.283), lightMost * random.between(0.2, 1)];
  const shadows = some(random.chance(shadow) ? 1 + random.below(2) : 0, () =>
    shadowOf(random, width, height),
  );
  const drops = some(random.chance(dropChance) ? 1 + random.below(4) : 0, () => ({
    x: random.between(0, 210),
    y: random.between(0, 297),
    radius: random.between(3, 12),
  }));
  const table = random.pick([random.between(0.1, 0.8), random.between(0.25, 0.45), random.between(0.7, 0.9)]);
  const grain = waves(random, 80, 4);
  const things = some(random.below(5), () => ({
    x: random.between(0, width),
    y: random.between(0, height),
    side: random.between(8, 120),
    shade: random.between(0.05, 0.6),
  }));
  for (let at = 0; at < scene.light.length; at += 1) {
    const [x, y] = [(at % columns) * GRID, Math.floor(at / columns) * GRID];
    const [nx, ny] = [x - width / 2, y - height / 2].map((v) => (2 * v) / Math.max(width, height)) as [
      number,
      number,
    ];
    const square = nx * nx + ny * ny;
    const flat = project(back, x + (x - width / 2) * lens * square, y + (y - height / 2) * lens * square);
    scene.x_mm[at] = flat.x + bend * bendX(flat.x, flat.y);
    scene.y_mm[at] = flat.y + bend * bendY(flat.x, flat.y);
    let light = exposure * (1 + depth * (nx * Math.cos(angle) + ny * Math.sin(angle)) - 0.15 * square);
    for (const shade of shadows) light *= shade(x, y);
    if (curled) light *= 1 + 0.08 * crease(flat.x, flat.y);
    for (const drop of drops) {
      const away = Math.hypot(flat.x - drop.x, flat.y - drop.y) / drop.radius;
      light *= 1 - 0.12 * Math.exp(-(((away - 0.92) / 0.1) ** 2)) - (away < 0.9 ? 0.05 : 0);
    }
    scene.light[at] = light;
    const thing = things.find((one) => Math.abs(x - one.x) < one.side && Math.abs(y - one.y) < one.side);
    scene.table[at] = thing?.shade ?? table * (1 + 0.08 * grain(x, y * 0.1));
  }
  return scene;
}

/** What falls on the sensor, 0 to 1: between the lines of the grid everything is linear. */
function render(page: Float32Array, layer: Layer, scene: Scene, width: number, height: number): Float32Array {
  const { columns } = scene;
  const seen = new Float32Array(width * height);
  const lefts = [0, 0, 0, 0];
  const slopes = [0, 0, 0, 0];
  const grids = [scene.x_mm, scene.y_mm, scene.light, scene.table];
  for (let y = 0; y < height; y += 1) {
    const fy = (y % GRID) / GRID;
    for (let column = 0; column * GRID < width; column += 1) {
      const corner = Math.floor(y / GRID) * columns + column;
      for (let k = 0; k < 4; k += 1) {
        const grid = grids[k]!;
        const left = grid[corner]! * (1 - fy) + grid[corner + columns]! * fy;
        lefts[k] = left;
        slopes[k] = (grid[corner + 1]! * (1 - fy) + grid[corner + columns + 1]! * fy - left) / GRID;
      }
      const end = Math.min(GRID, width - column * GRID);
      for (let step = 0; step < end; step += 1) {
        const px = (lefts[0]! + slopes[0]! * step) * layer.perMm - 0.5;
        const py = (lefts[1]! + slopes[1]! * step) * layer.perMm - 0.5;
        const light = lefts[2]! + slopes[2]! * step;
        let value = lefts[3]! + slopes[3]! * step;
        if (px >= 0 && py >= 0 && px < layer.width - 1 && py < layer.height - 1) {
          const [i, j] = [Math.floor(px), Math.floor(py)];
          const [fx, fj, at] = [px - i, py - j, j * layer.width + i];
          const top = page[at]! * (1 - fx) + page[at + 1]! * fx;
          const bottom = page[at + layer.width]! * (1 - fx) + page[at + layer.width + 1]! * fx;
          value = top * (1 - fj) + bottom * fj;
        }
        seen[y * width + column * GRID + step] = Math.min(1, Math.max(0, value * light));
      }
    }
  }
  return seen;
}

/** Eight bits a pixel, with the sensor's noise: the root of the light, shared a little by neighbours. */
function exposed(seen: Float32Array, random: Random, strength: number, lift: number): Uint8Array {
  const noise = Float32Array.from({ length: 1 << 16 }, () => random.normal(strength));
  const pixels = new Uint8ClampedArray(seen.length);
  let last = 0.5;
  let offset = 0;
  for (let at = 0; at < seen.length; at += 1) {
    if (at % 4096 === 0) offset = random.below(1 << 16);
    last = 0.45 * last + 0.9 * noise[(at + offset) & 0xffff]!;
    const value = seen[at]! * 255;
    pixels[at] = (value + last * Math.sqrt(Math.max(10, value) / 160)) * lift;
  }
  return new Uint8Array(pixels.buffer);
}

/** A photograph of a printed and written page on a table, `long` pixels along its longer side. */
export function photograph(
  printed: Layer,
  ink: Layer,
  random: Random,
  level: Level,
  long = 2048,
): Photograph {
  const conditions = conditionsOf(level);
  const { perMm } = printed;
  const paper = { width: printed.width / perMm, height: printed.height / perMm };
  const quarters = random.chance(conditions.quarterTurn) ? 1 + random.below(3) : 0;
  const short = Math.round((long * 3) / 4);
  const [width, height] = quarters % 2 === 1 ? [long, short] : [short, long];
  const { back, isCropped } = cameraOver(random, paper, { width, height }, conditions, quarters);
  const dark = random.chance(conditions.dark);
  const exposure = random.between(0.75, 1.05) * (dark ? random.between(0.3, 0.6) : 1);
  const scene = sceneOf(random, back, { width, height }, conditions, exposure);
  let seen = render(inkOnPaper(printed, ink, random), printed, scene, width, height);
  const kernel = gaussian(Math.hypot(random.between(conditions.blurLeast, conditions.blurMost), 0.35));
  seen = blurLines(blurLines(seen, kernel, 1), kernel, width);
  if (random.chance(conditions.shake)) {
    const [far, angle] = [random.between(2, level === 'hard' ? 8 : 5), random.between(0, 6.283)];
    seen = shaken(seen, width, far * Math.cos(angle), far * Math.sin(angle));
  }
  // A dark picture is lifted afterwards, and its noise with it.
  const lift = dark && random.chance(0.7) ? 0.75 / exposure : 1;
  const pixels = exposed(
    seen,
    random,
    random.between(conditions.noiseLeast, conditions.noiseMost) * (dark ? 1.6 : 1),
    lift,
  );
  return {
    ...jpegLoss(
      { width, height, pixels },
      Math.round(random.between(conditions.jpegLeast, conditions.jpegMost)),
    ),
    cropped: isCropped,
    paperAt: ({ x, y }) => {
      const [i, j] = [Math.floor(x / GRID), Math.floor(y / GRID)];
      const [u, v, at] = [x / GRID - i, y / GRID - j, j * scene.columns + i];
      const along = (grid: Float32Array, from: number): number => grid[from]! * (1 - u) + grid[from + 1]! * u;
      const mm = (grid: Float32Array): number =>
        along(grid, at) * (1 - v) + along(grid, at + scene.columns) * v;
      return { x: mm(scene.x_mm), y: mm(scene.y_mm) };
    },
  };
}
