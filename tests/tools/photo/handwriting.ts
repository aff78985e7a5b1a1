import { readFileSync } from 'node:fs';
import type { Point } from '../../../lib/photo/homography.ts';
import type { Random } from './random.ts';

/** Ink or toner on paper, 0 none to 1 full, row by row. */
export interface Layer {
  readonly width: number;
  readonly height: number;
  readonly perMm: number;
  readonly values: Float32Array;
}

/** A drawn sign as a picture: 0 paper, 255 ink. */
export interface Mask {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** One source of written signs beside the pen: a typeface of handwriting, or scanned digits. */
export interface Hand {
  readonly name: string;
  /** Several of each digit where they were scanned. */
  readonly digits: readonly (readonly Mask[])[];
  readonly words: readonly Mask[];
}

/** Written by `hands.py`: typefaces to train and to test with, scanned digits to test with, printed words. */
export interface Hands {
  readonly train: readonly Hand[];
  readonly test: readonly Hand[];
  readonly scanned: readonly Hand[];
  readonly print: readonly Mask[];
}

export const PEN_ONLY: Hands = { train: [], test: [], scanned: [], print: [] };

interface StoredMask {
  readonly w: number;
  readonly h: number;
  readonly data: string;
}

export function loadHands(path: string): Hands {
  return JSON.parse(readFileSync(path, 'utf8'), (_, value: unknown) => {
    if (typeof value !== 'object' || value === null || !('data' in value)) return value;
    const { w, h, data } = value as StoredMask;
    return { width: w, height: h, pixels: new Uint8Array(Buffer.from(data, 'base64')) };
  }) as Hands;
}

/** Forms of the digits, a line or more each: forms split by `/`, strokes by `|`, points in hundredths, y down. */
const FORMS: readonly (readonly (readonly Point[])[])[][] = `
50,0 12,20 2,55 20,95 55,100 88,75 92,35 70,5 45,0 / 55,2 20,10 5,50 25,95 60,97 90,60 80,15 50,0 35,8 / 60,5
25,8 3,40 10,80 40,100 75,92 97,60 90,22 62,0 48,4 / 30,6 8,40 14,85 48,100 80,85 92,45 75,8 45,0 22,18 /
68,14 40,0 12,25 4,60 20,92 52,100 84,80 94,40 78,10 66,6 / 40,12 10,35 5,75 40,100 85,80 92,35 65,4 35,8
30,20 55,22 90,5 / 70,20 40,5 8,35 6,80 45,100 90,70 88,25 50,2 / 62,12 58,0 20,18 2,60 30,100 72,90 98,40
70,6 40,4;
50,0 50,35 50,70 50,100 / 52,0 47,40 50,70 46,100 / 20,30 38,15 55,0|55,0 54,50 53,100 / 20,28 40,14
52,0|52,0 52,50 52,100|20,100 50,100 85,100 / 0,50 28,27 62,0|62,0 60,50 58,100 / -12,62 20,36 66,0|66,0
62,50 60,100 / 10,40 36,20 60,0 58,50 56,100 / 30,18 44,10 54,0|54,0 50,50 47,100 / 5,34 40,18 58,0|58,0
56,52 54,100|30,100 56,99 80,98 / -20,45 15,32 60,0|60,0 56,50 50,100 / 40,0 44,50 50,100 / 56,4 52,50 40,100
36,92 / 38,22 56,2 54,50 50,100;
8,25 30,2 70,5 82,30 55,62 10,98|10,98 50,97 95,97 / 10,20 40,0 80,15 70,45 30,80 10,95 25,85 50,92 95,100 /
5,18 45,0 88,14 80,42 42,70 6,97 40,96 92,92 / 12,30 22,6 60,0 86,20 70,52 36,80 4,100 50,98 100,88 / 5,8
50,0 90,8 84,30 45,65 5,99|5,99 50,100 98,99 / 15,22 45,3 78,18 68,48 30,82 12,99 8,86 30,82 60,96 98,92 /
5,12 50,2 92,6 50,50 8,96 50,95 96,98 / 12,25 40,2 75,10 70,40 30,85 5,92 20,75 60,90 100,80 / 10,20 45,0
80,15 72,45 40,75 10,100 60,92 90,70 / 22,30 14,12 45,-2 78,20 52,58 14,88 8,98 26,80 40,84 50,98 96,96 /
30,22 50,0 82,18 50,60 4,100 100,94;
10,12 45,0 80,18 70,40 40,48 80,58 88,82 50,100 8,90 / 10,3 50,3 85,3|85,3 65,25 45,42|45,42 85,50 88,80
50,100 8,90 / 12,10 50,0 82,16 74,38 36,47|36,47 84,54 94,80 55,100 5,92 / 5,8 48,0 78,14 66,36 34,44 44,50
78,52 92,76 56,100 4,86 / 18,14 52,0 80,20 62,44 38,50 60,46 90,64 80,92 40,100 10,84 / 6,4 48,6 86,2 62,22
40,38 78,44 94,70 66,98 6,96 / 10,15 45,0 75,15 60,40 35,45 30,52 45,50 80,62 80,90 45,100 5,88 / 5,5 85,5
45,40 85,60 70,98 5,92 / 25,5 70,8 50,38 30,42 75,55 85,82 40,100 8,88 / 14,10 56,0 80,16 58,40 40,48 56,48
90,60 84,96 40,120 0,100;
45,0 28,30 8,62|8,62 50,62 95,60|72,30 70,65 68,100 / 15,2 12,30 15,55|15,55 50,56 88,52|82,0 80,50 76,100 /
70,0 35,35 5,68|5,68 50,68 95,68|70,0 70,50 70,100 / 30,0 20,28 6,58|6,58 48,60 94,54|66,6 62,52 56,100 /
62,0 34,34 4,66 50,66 98,62|66,2 64,50 62,100 / 20,0 14,30 10,54 45,58 84,50|84,4 78,52 70,100 / 66,0 30,40
2,72 50,70 100,68|74,44 72,70 70,100 / 65,0 10,60 90,60|65,0 65,100 / 40,0 15,55 85,50|80,20 55,100 / 20,0
15,50 60,50 80,5 70,60 60,100 / 60,0 20,50 5,60 100,58|70,30 60,100 / 24,0 10,40 30,56 80,40|90,0 78,50
66,100 / 8,4 10,48 56,46 94,40|76,6 70,56 72,100;
85,3 50,3 20,3|20,3 18,25 15,45|15,45 50,36 85,55 80,85 45,100 8,92 / 90,0 50,4 25,3 20,25 17,42 50,37 87,60
75,92 40,100 5,88 / 22,4 18,24 14,46 52,38 88,58 78,90 42,100 6,90|22,4 56,3 92,0 / 26,6 20,26 16,44 54,34
92,60 76,94 36,100 4,94|34,2 62,2 96,-4 / 88,2 52,6 28,4 18,40 42,36 78,48 84,78 52,98 10,96 / 80,0 30,2
24,20 20,40 56,42 86,64 66,94 30,100 2,88 / 20,8 16,45 50,38 82,60 70,95 10,96|30,5 95,-8 / 85,5 40,0 20,25
45,45 75,60 75,88 40,100 10,88 / 30,5 22,45 55,40 80,65 60,95 15,100|40,2 100,0 / 75,0 30,5 25,40 60,42 78,70
50,98 5,90 / 40,4 26,44 56,44 76,66 62,92 30,100 4,84|40,4 70,8 110,-4;
75,2 40,18 12,55 18,90 50,100 85,82 80,58 50,50 18,70 / 55,0 30,30 10,65 25,96 60,98 85,75 62,52 30,60 14,75
/ 70,0 36,26 8,62 16,94 52,100 88,84 84,60 54,52 22,62 12,76 / 50,0 22,36 6,70 24,98 62,98 82,78 66,60 36,62
14,80 / 84,6 46,6 12,44 8,82 44,100 84,90 86,62 56,50 20,62 / 40,0 18,40 8,74 30,100 66,94 78,72 52,58 20,70
/ 60,0 25,40 12,80 40,100 70,85 60,65 25,72 / 90,0 45,25 10,65 15,95 60,100 95,70 65,50 25,75 / 20,0 15,50
18,95 60,100 85,75 55,52 20,72 / 85,15 60,0 25,25 8,65 25,98 70,95 80,65 45,52 12,75 / 64,0 40,30 22,70
34,100 62,94 66,72 44,68 28,84;
8,5 50,5 90,4|90,4 60,45 38,100 / 8,5 50,5 90,4|90,4 60,45 38,100|25,50 55,50 85,48 / 8,22 8,10 9,3|9,3 50,5
90,2|90,2 60,45 40,100|22,52 50,50 80,47 / 8,20 8,10 9,3|9,3 50,5 90,2|90,2 70,45 62,100 / 4,6 50,4 94,0
66,40 50,100 / 4,10 48,2 92,4 76,28 52,60 34,100|18,54 48,50 82,44 / 2,4 50,6 88,3|88,3 72,36 66,100|36,46
66,46 96,44 / 5,10 30,0 50,8 90,2 70,40 50,100 / 10,0 90,0 45,60 40,100 / 8,25 10,2 90,2 40,100 / 0,16 40,8
96,-2 60,40 20,100 / 12,6 50,10 84,0 64,46 56,100|30,48 88,44;
75,12 45,0 18,18 40,42 78,68 70,95 40,100 15,82 40,52 75,30 72,10 / 50,46 20,25 50,0 80,22 50,46 12,75 50,100
88,75 50,46 / 70,16 42,2 22,20 46,44 80,72 60,98 24,92 22,70 52,48 78,24 66,10 / 84,10 50,0 20,20 48,46 82,76
52,100 18,80 46,54 88,22 88,4 / 48,46 26,28 44,2 74,12 66,38 44,48 14,72 34,100 74,94 82,66 46,44 / 40,46
20,22 52,0 78,24 54,44 40,46|50,46 16,70 46,100 86,74 52,46 / 50,45 22,25 50,0 78,22 50,45|50,45 12,75 50,100
88,75 50,45 / 70,10 40,0 25,20 50,40 70,60 60,90 35,95 25,75 55,50 80,20 75,8 / 20,10 75,90 60,100 25,85
80,10 60,0 30,5 / 90,4 60,0 34,20 52,44 70,66 44,98 14,86 30,62 62,40 96,14 / 60,20 36,4 20,26 52,46 78,70
56,98 24,84 40,56 78,34 84,16 62,4;
82,20 50,0 15,22 30,48 65,45 85,18 82,50 75,100 / 80,15 45,2 12,28 35,52 75,35 82,10 85,50 70,90 35,100 12,90
/ 85,5 40,0 10,25 40,50 85,30|85,2 85,50 84,100 / 84,12 48,0 14,20 26,46 62,44 84,16 78,56 56,100 / 78,22
52,2 18,18 22,44 56,48 80,24 84,60 68,94 28,98 / 76,8 36,4 10,30 38,50 70,36 80,6|80,6 78,52 72,100 / 60,8
25,5 8,28 30,48 62,38 80,8|82,6 80,45 72,100 / 70,2 30,8 12,30 40,45 82,22 78,60 60,100 / 80,10 50,0 30,20
50,35 78,12 60,55 35,100 / 86,14 56,0 14,12 10,40 44,50 80,24 70,60 40,100 20,96 / 74,24 60,2 24,10 16,36
50,40 76,16 84,50 80,100 / 90,0 50,2 16,20 20,44 60,40 86,8 74,50 56,98;
`
  .split(';')
  .slice(0, 10)
  .map((forms) =>
    forms.split('/').map((form) =>
      form.split('|').map((stroke) =>
        stroke
          .trim()
          .split(/\s/)
          .map((text) => {
            const [x = 0, y = 0] = text.split(',').map(Number);
            return { x, y };
          }),
      ),
    ),
  );

/** Catmull-Rom through the points, so many steps between two. */
function curve(points: readonly Point[], steps = 9): Point[] {
  const ends = (a: Point, b: Point): Point => ({ x: 2 * a.x - b.x, y: 2 * a.y - b.y });
  const last = points.at(-1)!;
  const all = [ends(points[0]!, points[1]!), ...points, ends(last, points.at(-2)!)];
  return [
    ...points.slice(1).flatMap((_, i) =>
      Array.from({ length: steps }, (_step, step) => {
        const t = step / steps;
        const at = (k: 'x' | 'y'): number => {
          const [a, b, c, d] = [all[i]![k], all[i + 1]![k], all[i + 2]![k], all[i + 3]![k]];
          return (
            0.5 *
            (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t ** 2 + (3 * b - a - 3 * c + d) * t ** 3)
          );
        };
        return { x: at('x'), y: at('y') };
      }),
    ),
    last,
  ];
}

/** A line cut into so many equal steps: two lines of one length can be mixed. */
function resampled(line: readonly Point[], count = 40): Point[] {
  const lengths = [0];
  for (let i = 1; i < line.length; i += 1)
    lengths.push(lengths[i - 1]! + Math.hypot(line[i]!.x - line[i - 1]!.x, line[i]!.y - line[i - 1]!.y));
  let i = 0;
  return Array.from({ length: count }, (_, step) => {
    const want = (lengths.at(-1)! * step) / (count - 1);
    while (i < line.length - 2 && lengths[i + 1]! < want) i += 1;
    const t = (want - lengths[i]!) / Math.max(lengths[i + 1]! - lengths[i]!, 1e-9);
    const mix = (k: 'x' | 'y'): number => line[i]![k] * (1 - t) + line[i + 1]![k] * t;
    return { x: mix('x'), y: mix('y') };
  });
}

/** A line of a round pen through points in pixels; the darker of old and new ink stays. */
function drawLine(layer: Layer, points: readonly Point[], radius: number, ink: number): void {
  for (let i = 0; i + 1 < points.length; i += 1) {
    const [a, b] = [points[i]!, points[i + 1]!];
    const [vx, vy] = [b.x - a.x, b.y - a.y];
    const square = Math.max(vx * vx + vy * vy, 1e-9);
    const reach = radius + 1;
    const x0 = Math.max(0, Math.floor(Math.min(a.x, b.x) - reach));
    const x1 = Math.min(layer.width - 1, Math.ceil(Math.max(a.x, b.x) + reach));
    const y0 = Math.max(0, Math.floor(Math.min(a.y, b.y) - reach));
    const y1 = Math.min(layer.height - 1, Math.ceil(Math.max(a.y, b.y) + reach));
    for (let y = y0; y <= y1; y += 1)
      for (let x = x0; x <= x1; x += 1) {
        const t = Math.min(1, Math.max(0, ((x - a.x) * vx + (y - a.y) * vy) / square));
        const away = Math.hypot(x - a.x - t * vx, y - a.y - t * vy);
        const value = Math.min(1, Math.max(0, radius + 0.5 - away)) * ink;
        const at = y * layer.width + x;
        if (value > layer.values[at]!) layer.values[at] = value;
      }
  }
}

/** Where a sign is written: its middle and height in millimetres, and the widest it may be. */
export interface Place extends Point {
  readonly height: number;
  readonly widest: number;
}

/** One person with one pen. */
export interface Writer {
  /** The pen's own digits, or those of a typeface or scan. */
  readonly hand: Hand | null;
  readonly name: string;
  readonly forms: readonly number[];
  /** Width of a digit as a share of its height. */
  readonly aspect: number;
  /** The same for a sign that is a picture, as a multiple of its own. */
  readonly stretch: number;
  readonly unsteady: number;
  /** Millimetres. */
  readonly thickness: number;
  readonly slant: number;
  /** Height of a digit as a share of the box's. */
  readonly size: number;
  readonly sloppy: number;
  readonly ink: number;
}

export function writerFrom(random: Random, hands: Hands, use: 'train' | 'test'): Writer {
  const pool = use === 'train' ? hands.train : [...hands.test, ...hands.scanned];
  const scans = use === 'test' && hands.scanned.length > 0;
  const source = random.unit();
  let hand: Hand | null = null;
  if (scans && source < 0.6) hand = random.pick(hands.scanned);
  else if (source > (scans ? 0.75 : 0.55) && pool.length > 0)
    hand = random.pick(use === 'train' ? pool : hands.test);
  return {
    hand,
    name: hand === null ? 'pen' : hands.scanned.includes(hand) ? 'scan' : 'typeface',
    forms: FORMS.map(({ length }) => random.below(length)),
    aspect: random.between(0.4, 0.8),
    stretch: use === 'train' ? random.between(0.75, 1.3) : random.between(0.9, 1.1),
    unsteady: random.between(1, use === 'train' ? 8 : 6),
    thickness: random.between(0.3, use === 'train' ? 1.3 : 0.95),
    slant: random.normal(use === 'train' ? 0.22 : 0.15),
    size: random.between(0.55, 0.92),
    sloppy: random.between(0.25, 1.2),
    ink: random.between(0.75, 1),
  };
}

/** Turns, slants and bends a sign of unit height about its middle. */
function bending(random: Random, slant: number): (p: Point) => Point {
  const turn = random.normal(0.07);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const lean = slant + random.normal(0.05);
  const wave = (): ((at: number) => number) => {
    const [size, often, phase] = [random.normal(0.04), random.between(2.5, 7), random.unit() * 6.283];
    return (at) => size * Math.sin(often * at + phase);
  };
  const [across, down] = [wave(), wave()];
  return ({ x, y }) => {
    const u = x - lean * y + across(y);
    const v = y + down(x);
    return { x: cos * u - sin * v, y: sin * u + cos * v };
  };
}

const extent = (values: readonly number[]): { middle: number; size: number } => {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return { middle: (low + high) / 2, size: Math.max(high - low, 1e-6) };
};

/** A form's lines with its points moved a little; where two strokes meet they go on meeting. */
function shaken(random: Random, form: readonly (readonly Point[])[], by: number): Point[][] {
  const seen = new Map<string, Point>();
  return form.map((stroke) =>
    resampled(
      curve(
        stroke.map(({ x, y }) => {
          const point = seen.get(`${x} ${y}`) ?? { x: x + random.normal(by), y: y + random.normal(by * 0.8) };
          seen.set(`${x} ${y}`, point);
          return point;
        }),
      ),
    ),
  );
}

const MOST_APART = 35;
/** Whether the pen goes the same way in both: only then is something between the two the same digit. */
const isDrawnAlike = (a: readonly (readonly Point[])[], b: readonly (readonly Point[])[]): boolean =>
  a.length === b.length &&
  a.every((stroke, i) => {
    const [one, two] = [resampled(curve(stroke)), resampled(curve(b[i]!))];
    return one.every(({ x, y }, at) => Math.hypot(x - two[at]!.x, y - two[at]!.y) < MOST_APART);
  });

/** Writes with the pen: a form, or something between two, moved, bent and joined anew each time. */
function penDigit(layer: Layer, random: Random, writer: Writer, digit: number, place: Place): void {
  const forms = FORMS[digit]!;
  const form = random.chance(0.85) ? forms[writer.forms[digit]!]! : random.pick(forms);
  const other = random.pick(forms.filter((each) => isDrawnAlike(each, form)));
  const share = random.chance(0.4) ? 0 : random.between(0, 0.6);
  const [first, second] = [shaken(random, form, writer.unsteady), shaken(random, other, writer.unsteady)];
  const wide = writer.aspect * random.between(0.85, 1.15) * (digit === 1 ? 0.55 : 1);
  const bend = bending(random, writer.slant);
  // A pen that touches down late or lifts early leaves loops open and strokes short.
  const missed = (): number => (random.chance(0.3) ? random.below(5) : 0);
  const strokes = first.map((line, i) =>
    line
      .map((point, at) => {
        const mix = (k: 'x' | 'y'): number => point[k] * (1 - share) + second[i]![at]![k] * share;
        return bend({ x: ((mix('x') - 50) / 100) * wide, y: (mix('y') - 50) / 100 });
      })
      .slice(missed(), line.length - missed()),
  );
  const [across, down] = [extent(strokes.flat().map(({ x }) => x)), extent(strokes.flat().map(({ y }) => y))];
  const scale = Math.min(place.height / down.size, place.widest / across.size) * layer.perMm;
  const radius = (writer.thickness * random.between(0.85, 1.15) * layer.perMm) / 2;
  for (const stroke of strokes)
    drawLine(
      layer,
      stroke.map(({ x, y }) => ({
        x: place.x * layer.perMm + (x - across.middle) * scale,
        y: place.y * layer.perMm + (y - down.middle) * scale,
      })),
      radius,
      writer.ink,
    );
}

/** Puts a picture of a sign on the layer, bent as by another hand unless printed, its edges sharpened at a level of their own. */
export function stamp(
  layer: Layer,
  random: Random,
  mask: Mask,
  place: Place,
  writer: Pick<Writer, 'slant' | 'ink' | 'stretch'> | null,
): void {
  const aspect = (mask.width / mask.height) * (writer?.stretch ?? 1);
  const height = Math.min(place.height, place.widest / aspect) * layer.perMm;
  // Such a sign has a slant of its own.
  const bend = writer ? bending(random, -writer.slant / 2) : (p: Point): Point => p;
  const [level, ink] = [random.between(0.25, 0.6), writer?.ink ?? 1];
  const [reachX, reachY] = [height * aspect * 0.75 + height * 0.25, height * 0.75];
  const [cx, cy] = [place.x * layer.perMm, place.y * layer.perMm];
  for (let y = Math.max(0, Math.floor(cy - reachY)); y <= Math.min(layer.height - 1, cy + reachY); y += 1)
    for (let x = Math.max(0, Math.floor(cx - reachX)); x <= Math.min(layer.width - 1, cx + reachX); x += 1) {
      const p = bend({ x: (x - cx) / height, y: (y - cy) / height });
      const [u, v] = [(p.x / aspect + 0.5) * mask.width - 0.5, (p.y + 0.5) * mask.height - 0.5];
      const [i, j] = [Math.floor(u), Math.floor(v)];
      if (i < -1 || j < -1 || i >= mask.width || j >= mask.height) continue;
      const get = (a: number, b: number): number =>
        a < 0 || b < 0 || a >= mask.width || b >= mask.height ? 0 : mask.pixels[b * mask.width + a]!;
      const [fu, fv] = [u - i, v - j];
      const value =
        (get(i, j) * (1 - fu) + get(i + 1, j) * fu) * (1 - fv) +
        (get(i, j + 1) * (1 - fu) + get(i + 1, j + 1) * fu) * fv;
      const dark = Math.min(1, Math.max(0, (value / 255 - level) * 5 + 0.5)) * ink;
      const at = y * layer.width + x;
      if (dark > layer.values[at]!) layer.values[at] = dark;
    }
}

export function writeDigit(layer: Layer, random: Random, writer: Writer, digit: number, place: Place): void {
  if (writer.hand === null) penDigit(layer, random, writer, digit, place);
  else stamp(layer, random, random.pick(writer.hand.digits[digit]!), place, writer);
}

/** Strokes that are no digit, in a box of unit size around zero: what crosses out, or fills a circle. */
const SCRIBBLES = {
  zigzag: '-40,-40 40,-30 -40,-10 40,5 -40,20 40,40',
  cross: '-42,-42 42,42|42,-42 -42,42',
  tangle: '-30,-20 30,-40 10,30 -40,10 40,0 -20,40 20,-30 -10,-40 30,40',
  line: '-48,4 0,-3 48,-6',
  twice: '-48,-8 48,-12|-48,12 48,6',
  tick: '-35,0 -10,35 45,-50',
  dot: '-6,-6 8,6 -8,8 6,-8 0,0',
  slash: '-40,45 0,0 40,-45',
} as const;
export type Scribble = keyof typeof SCRIBBLES;
export const CROSSINGS: readonly Scribble[] = ['zigzag', 'cross', 'tangle', 'line', 'twice', 'slash'];
export const CIRCLE_MARKS: readonly Scribble[] = [
  'cross',
  'cross',
  'cross',
  'zigzag',
  'zigzag',
  'tick',
  'tick',
  'dot',
  'slash',
];

export function scribble(
  layer: Layer,
  random: Random,
  { thickness, ink }: Writer,
  kind: Scribble,
  { x, y, height, widest }: Place,
): void {
  for (const stroke of SCRIBBLES[kind].split('|')) {
    const points = stroke.split(' ').map((text) => {
      const [px = 0, py = 0] = text.split(',').map((value) => Number(value) + random.normal(7));
      return { x: (x + (px / 100) * widest) * layer.perMm, y: (y + (py / 100) * height) * layer.perMm };
    });
    drawLine(layer, curve(points), (thickness * layer.perMm) / 2 + (kind === 'dot' ? 2 : 0), ink);
  }
}
