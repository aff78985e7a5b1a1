import { afterAll, expect, it } from 'vitest';
import { measureAgainstPlainPrinting } from '../../../lib/paper/engine/bench-support.ts';
import { kettleSheet, Workplace } from './workplace.ts';

const place = new Workplace();
afterAll(() => place.remove());

it('lays out and prints a sheet in less than twice the time of printing the same file as it is', async () => {
  const paths = Array.from(
    { length: 12 },
    (_, at) => place.sheet(`s${at}`, { body: kettleSheet(24 + at) }).htmlPath,
  );
  const times = await measureAgainstPlainPrinting(paths);
  expect(times.sheets).toBe(12);
  expect(times.sheetsPerSecond).toBeCloseTo(1000 / times.sheet_ms, 6);
  // What the engine is meant to reach: medians of both, taken one after the other, in warm tabs.
  expect(times.ratio, JSON.stringify(times)).toBeLessThan(2);
});
