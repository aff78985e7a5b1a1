import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { straighten } from '../../lib/photo/crop.ts';
import { type Grey, greyOf, readingSize } from '../../lib/photo/grey.ts';
import { type Point, project } from '../../lib/photo/homography.ts';
import { loadNet } from '../../lib/photo/net.ts';
import { type PageReading, readPage, refusalText } from '../../lib/photo/read-page.ts';
import { PEN_ONLY } from '../tools/photo/handwriting.ts';
import { BATCH, drawnPage, fillPage, layerFor, printPage } from '../tools/photo/paper.ts';
import { type Level, photograph } from '../tools/photo/photograph.ts';
import { randomFrom } from '../tools/photo/random.ts';

const net = loadNet(readFileSync(new URL('../../lib/photo/net.bin', import.meta.url)));
const page = drawnPage('sheet', 2);
/** Pixels a millimetre of the drawn paper, and along the longer side of a picture: small, for speed. */
const [PER_MM, LONG] = [6, 1400];

function picture(seed: number, level: Level, written = true) {
  const random = randomFrom(seed);
  const filled = fillPage(page, random, PEN_ONLY, 'test', PER_MM);
  const ink = written ? filled.ink : layerFor(page, PER_MM);
  const printed = printPage(page, random, PEN_ONLY, { perMm: PER_MM });
  return { ...filled, grey: photograph(printed, ink, random, level, LONG) };
}

const quarterTurn = ({ width, height, pixels }: Grey): Grey => ({
  width: height,
  height: width,
  pixels: Uint8Array.from(
    pixels,
    (_, at) => pixels[(height - 1 - (at % height)) * width + Math.floor(at / height)]!,
  ),
});

/** Each column lower than the one before: a page that leans. */
function sheared({ width, height, pixels }: Grey, slope: number): Grey {
  const tall = height + Math.ceil(slope * width);
  const out = new Uint8Array(width * tall).fill(128);
  for (let x = 0; x < width; x += 1)
    for (let y = 0; y < height; y += 1) out[(y + Math.round(slope * x)) * width + x] = pixels[y * width + x]!;
  return { width, height: tall, pixels: out };
}

const cut = ({ width, height, pixels }: Grey, from: number): Grey => ({
  width,
  height: height - from,
  pixels: pixels.slice(from * width),
});

/** The picture on a screen that is photographed: bright, its pixels in stripes, a lamp shining in it at one place. */
const onScreen = ({ width, height, pixels }: Grey, lamp: (Point & { radius: number }) | null): Grey => ({
  width,
  height,
  pixels: Uint8Array.from(pixels, (value, at) => {
    const [x, y] = [at % width, Math.floor(at / width)];
    const stripes = 1 + 0.12 * Math.sin(x * 1.93 + y * 0.07) + 0.12 * Math.sin(y * 2.02 - x * 0.05);
    const glare = lamp && 260 * Math.exp(-((Math.hypot(x - lamp.x, y - lamp.y) / lamp.radius) ** 4));
    return Math.min(255, (40 + value * 0.85) * stripes + (glare ?? 0));
  }),
});

const uniform = (value: (x: number, y: number) => number): Grey => ({
  width: 1200,
  height: 1600,
  pixels: Uint8Array.from({ length: 1200 * 1600 }, (_, at) => value(at % 1200, Math.floor(at / 1200))),
});

function read(grey: Grey, shown = page): PageReading {
  const reading = readPage(grey, [shown], net);
  if (reading.kind === 'refused') throw new Error(reading.code);
  return reading;
}

const easy = picture(4, 'easy');
const usual = picture(1, 'usual');
const easyRead = read(easy.grey);
/** Without blanks to read, where only the page is looked for. */
const bare = { ...page, fields: [] };

describe('a photographed page', () => {
  it.each([
    ['easy', easy.truth, easyRead, 0.9],
    ['usual', usual.truth, read(usual.grey), 0.8],
  ] as const)('is read in %s light', (_, truth, { blanks }, least) => {
    expect(blanks.map(({ id }) => id)).toEqual(page.fields.map(({ id }) => id));
    const clean = blanks.filter(({ id }) => !truth.get(id)?.digits.join('').includes('x'));
    const right = clean.filter(({ id, groups }) =>
      groups.every(({ digits }, i) => digits === truth.get(id)?.digits[i]),
    );
    expect(right.length / clean.length).toBeGreaterThanOrEqual(least);
    const circles = blanks.filter(({ id, leftOut }) => (leftOut ?? 0) > 0.5 === truth.get(id)?.circle);
    expect(circles.length / blanks.length).toBeGreaterThan(0.95);
    // What runs from a number into its circle is no mark.
    const filled = blanks.filter(({ groups }) => groups.some(({ text }) => text !== ''));
    expect(filled.map(({ leftOut }) => leftOut)).toEqual(filled.map(() => 0));
  });

  it('stands at the same place of the picture whichever way the phone was held', () => {
    let [grey, expected]: [Grey, Point] = [easy.grey, project(easyRead.view, 40, 60)];
    for (let turn = 1; turn < 4; turn += 1) {
      expected = { x: grey.height - 1 - expected.y, y: expected.x };
      grey = quarterTurn(grey);
      const seen = project(read(grey, bare).view, 40, 60);
      expect(Math.hypot(seen.x - expected.x, seen.y - expected.y)).toBeLessThan(1);
    }
  });

  it('has its marks where the view says', () => {
    const { view } = easyRead;
    for (const mark of page.corner_marks_mm) {
      const { pixels } = straighten(
        easy.grey,
        view,
        { ...mark, x: mark.x + 0.5, y: mark.y + 0.5, width: 3, height: 3 },
        4,
      );
      expect(Math.max(...pixels)).toBeLessThan(110);
    }
  });

  it('has nothing in its boxes where nothing was written', () => {
    const { blanks } = read(picture(5, 'easy', false).grey);
    const texts = blanks.flatMap(({ groups }) => groups.map(({ text }) => text));
    expect(texts.filter((text) => text !== '')).toEqual([]);
    expect(blanks.filter(({ leftOut }) => (leftOut ?? 0) > 0.1)).toEqual([]);
  });
});

describe('a picture that is no page at hand', () => {
  const code = (grey: Grey): string => {
    const reading = readPage(grey, [bare], net);
    return reading.kind === 'refused' ? reading.code : reading.kind;
  };

  it('is refused by its strip where it shows another page, and says which', () => {
    const others = [drawnPage('sheet', 3), drawnPage('sheet', 2, { ...BATCH, revision: '77aa' })];
    expect(readPage(easy.grey, others, net)).toEqual({
      kind: 'refused',
      code: 'other-page',
      shows: { sheet: 'kettle', page: 2 },
    });
  });

  it('is refused where one mark is out of the picture', () => {
    const slope = 0.12;
    const leaning = sheared(easy.grey, slope);
    expect(code(leaning)).toBe('read');
    const [left, right] = page.corner_marks_mm.map(({ x, y }) => {
      const seen = project(easyRead.view, x + 2, y + 2);
      return seen.y + slope * seen.x;
    });
    expect(Math.abs(left! - right!)).toBeGreaterThan(60);
    expect(code(cut(leaning, Math.round((left! + right!) / 2)))).toBe('cropped');
  });

  it('is refused where the strip cannot be read', () => {
    const { view } = easyRead;
    const pixels = easy.grey.pixels.slice();
    const at = project(view, 105, page.corner_marks_mm[2]!.y + 2);
    for (let y = Math.round(at.y) - 12; y < at.y + 12; y += 1)
      pixels.fill(
        200,
        y * easy.grey.width + Math.round(at.x) - 60,
        y * easy.grey.width + Math.round(at.x) + 60,
      );
    expect(code({ ...easy.grey, pixels })).toBe('strip-unreadable');
  });

  it('is read from a screen, and refused where a lamp shines on what it is known by', () => {
    const at = (x: number, y: number, radius: number) => ({ ...project(easyRead.view, x, y), radius });
    const [mark, foot] = [page.corner_marks_mm[1]!, page.corner_marks_mm[2]!];
    expect(code(onScreen(easy.grey, null))).toBe('read');
    expect(code(onScreen(easy.grey, at(105, 140, 150)))).toBe('read');
    expect(code(onScreen(easy.grey, at(105, foot.y + 2, 60)))).toBe('strip-unreadable');
    expect(code(onScreen(easy.grey, at(mark.x + 2, mark.y + 2, 50)))).toBe('cropped');
  });

  it('is refused where it is empty, or full of other things', () => {
    const random = randomFrom(9);
    const noise = Uint8Array.from({ length: 4096 }, () => random.normal(3));
    expect(code(uniform((x, y) => 200 + noise[(x * 7 + y * 13) % 4096]!))).toBe('blank');
    expect(code(uniform((x, y) => (Math.floor(x / 90) % 2 === Math.floor(y / 60) % 2 ? 40 : 210)))).toBe(
      'not-found',
    );
  });
});

describe('a picture’s size', () => {
  it.each([
    [2048, 1536, { width: 2048, height: 1536 }],
    [8160, 6120, { width: 2400, height: 1800 }],
    [3000, 4000, { width: 1800, height: 2400 }],
    [640, 480, 'too-small'],
    [12_000, 9500, 'too-large'],
  ] as const)('%d by %d is read as %j', (width, height, expected) => {
    expect(readingSize(width, height)).toEqual(expected);
  });

  it('keeps the grey of its colours', () => {
    expect(greyOf(2, 1, [255, 255, 255, 255, 0, 255, 0, 255]).pixels).toEqual(Uint8Array.from([255, 150]));
  });
});

it('a refusal says which pages were looked for', () => {
  const refusal = { kind: 'refused', code: 'other-page', shows: { sheet: 'kettle', page: 2 } } as const;
  expect(refusalText(refusal, 'Kettle sheet, page 3')).toBe(
    'It shows kettle sheet, page 2, but of another batch or of another print. Looked for: Kettle sheet, page 3.',
  );
});
