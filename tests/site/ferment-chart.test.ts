/** The drawing of a fitted fermentation: what stands in it, told apart without colour, and read out. */
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import type { FermentationCurve } from '../../lib/batch/types/plan.ts';
import { fermentCurveChart } from '../../lib/site/charts/ferment-chart.ts';
import { sharedScale, smallFerment } from '../../lib/site/charts/small-ferment.ts';

const reading = (day: number, gravity: number, outlier = false) => ({
  key: `fermentation[${day}].gravity`,
  day,
  gravity,
  u: 0.001,
  outlier,
});

const CURVE: FermentationCurve = {
  model: 'published',
  pitched: '2026-11-14 12:00',
  readings: [reading(0, 1.045), reading(4, 1.02), reading(8, 1.014)],
  end_gravity: { value: 1.012, low: 1.01, high: 1.014, printed: { low: 1.01, high: 1.014 } },
  end_day: { expected: '2026-11-28', earliest: '2026-11-26', latest: '2026-12-02' },
  points: Array.from({ length: 21 }, (_, day) => {
    const gravity = 1.012 + 0.033 * Math.exp(-day / 3);
    return { day, gravity, low: gravity - 0.002, high: gravity + 0.002 };
  }),
};

interface Drawn {
  readonly name: string;
  readonly of: Readonly<Record<string, string>>;
}

/** Elements with their attributes, by a parser that knows nothing of the chart. */
function drawnIn(svg: string): Drawn[] {
  const found: Drawn[] = [];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) =>
    found.push({ name, of: attributes as Record<string, string> }),
  );
  parser.write(svg).close();
  return found;
}

const ofClass = (drawn: readonly Drawn[], name: string) =>
  drawn.filter(({ of }) => (of.class ?? '').split(' ').includes(name));
/** The places that a path names one by one, as M and L do. */
const placesOf = (path: Drawn) =>
  [...path.of.d!.matchAll(/[ML]([-\d.]+) ([-\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);

describe('the fitted curve', () => {
  const svg = fermentCurveChart(CURVE, 'en-GB');
  const drawn = drawnIn(svg);

  it('is read out: a title, and how it goes and ends', () => {
    const [root] = drawn;
    expect(root?.of.role).toBe('img');
    expect(root?.of['aria-labelledby']).toBe('ferment-chart-t ferment-chart-d');
    expect(svg).toContain(
      '<title id="ferment-chart-t">Gravity during fermentation, with the fitted curve</title>',
    );
    expect(svg.replaceAll('\u00a0', ' ')).toContain(
      '3 readings, from 1.045 to 1.014; the fitted curve ends at about 1.012, between 1.010 and 1.014, by 28 Nov 2026.',
    );
  });

  it('has a ring with a whisker for each reading, and the whisker is four standard uncertainties long', () => {
    expect(ofClass(drawn, 'dot')).toHaveLength(3);
    const whiskers = ofClass(drawn, 'whisker');
    expect(whiskers).toHaveLength(3);
    // On the same scale the band is ± 0.002 too.
    const [from, to] = placesOf(ofClass(drawn, 'edge')[0]!).reduce(
      (ends, [, y], i, all) => (i === 0 ? [y, all[21]![1]] : ends),
      [0, 0],
    );
    const [top, foot] = /M[-\d.]+ ([-\d.]+)V([-\d.]+)/.exec(whiskers[0]!.of.d!)!.slice(1).map(Number) as [
      number,
      number,
    ];
    expect(Math.abs(foot - top - (to - from))).toBeLessThanOrEqual(0.2);
  });

  it('is solid where it was read and dashed beyond, without a gap', () => {
    const [read, ahead] = ofClass(drawn, 'level');
    expect(ofClass(drawn, 'ahead')).toEqual([ahead]);
    expect(placesOf(read!).length).toBe(9);
    expect(placesOf(ahead!)[0]).toEqual(placesOf(read!).at(-1));
  });

  it('marks the end by level and by day, inside the frame', () => {
    expect(svg).toContain('>about 1.012</text>');
    expect(ofClass(drawn, 'notch')).toHaveLength(2);
    expect(ofClass(drawn, 'plumb')).toHaveLength(1);
    for (const [x, y] of drawn.filter(({ name }) => name === 'path').flatMap(placesOf)) {
      expect(x >= 0 && x <= 400 && y >= 0 && y <= 240).toBe(true);
    }
  });

  it('shows a reading that hardly counts as a cross, and keeps the scale of the others', () => {
    const readings = [...CURVE.readings.slice(0, 2), reading(6, 1.25, true), CURVE.readings[2]!];
    const crossed = fermentCurveChart({ ...CURVE, readings }, 'en-GB');
    expect(ofClass(drawnIn(crossed), 'dot')).toHaveLength(3);
    expect(crossed).toMatch(/l10 10m0 -10l-10 10/);
    const scales = (text: string) => text.match(/class="scale end"[^>]*>[^<]*/g);
    expect(scales(crossed)).toEqual(scales(svg));
  });
});

describe('small, beside others', () => {
  const points = [
    { day: 0, gravity: 1.04 },
    { day: 4, gravity: 1.02 },
  ];

  it('follows the fitted curve, with the readings as rings on it', () => {
    const fitted = [0, 1, 2, 3, 4].map((day) => ({ day, gravity: 1.04 - 0.005 * day }));
    const curve = { label: 'Fog', points, fitted };
    const drawn = drawnIn(smallFerment(curve, sharedScale([curve])));
    expect(placesOf(ofClass(drawn, 'level')[0]!)).toHaveLength(5);
    expect(ofClass(drawn, 'dot')).toHaveLength(2);
  });
});
