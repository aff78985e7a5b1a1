import { beforeAll, describe, expect, it } from 'vitest';
import { TARGET_KEYS } from '../../lib/batch/types/targets.ts';

import { type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { privateFigures } from '../../lib/site/check-private.ts';
import { createPages } from '../../lib/site/pages.ts';
import { farHeight, farKitchen, isFar } from '../../lib/site/round-altitude.ts';
import type { SiteEntry } from '../../lib/site/site.ts';

let demo: LoadedSite;
beforeAll(async () => {
  demo = await loadSite('content');
});

const at = (entry: SiteEntry, value: number): SiteEntry => ({
  ...entry,
  batch: {
    ...entry.batch,
    publish: 'recipe',
    setup: {
      ...entry.batch.setup,
      altitude_m: { value, u: 50, written: `${value} m`, assumed: false },
    },
  },
});

describe('a recipe that is published without its batch', () => {
  it('does not say how high its kitchen lies, to the metre or the foot', () => {
    const height = { value: 1337, u: 50, written: '1337 m', assumed: false };
    expect(farHeight(height, 'metric')).toMatchObject({ value: 1300, written: '1300 m' });
    // 1337 m is 4386 ft; the nearest three hundred are 4500.
    expect(farHeight(height, 'us').written).toBe('4500 ft');
    expect(farHeight({ ...height, value: -20 }, 'metric')).toMatchObject({ value: 0, written: '0 m' });
    const entry = at(demo.content.entries[0]!, 1337);
    const pages = createPages({ ...demo.content, entries: [entry], asRead: [entry.batch] });
    const { slug } = entry.batch;
    const html = pages.file(`recipes/${slug}/index.html`);
    expect(html).not.toContain('1337');
    expect(html).toContain('1300 m');
    expect(pages.file('data/archive.json')).not.toContain('1337');
  });

  it('keeps its figures within what is fine, at every height', () => {
    let compared = 0;
    for (const entry of demo.content.entries.filter((_, at) => at % 3 === 0))
      for (const height of [0, 149, 1651]) {
        const near = farKitchen(at(entry, height), demo.content.brewery);
        const far = farKitchen(near, demo.content.brewery);
        expect(far.batch.setup.altitude_m.value).toBe(near.batch.setup.altitude_m.value);
        for (const key of TARGET_KEYS) {
          const [planned, published] = [entry.plan.targets[key], near.plan.targets[key]];
          // Targets of the demo's own height are held against those of nearly the same one only.
          if (height > 149 || planned === null || published === null) continue;
          expect(published.value, `${entry.batch.slug} ${key}`).toBeGreaterThanOrEqual(planned.printed.low);
          expect(published.value, `${entry.batch.slug} ${key}`).toBeLessThanOrEqual(planned.printed.high);
          compared++;
        }
      }
    expect(compared).toBeGreaterThan(200);
  });

  it('is looked over before it is published', () => {
    const entry = demo.content.entries.find(({ batch }) => batch.publish === 'recipe')!;
    const { slug } = entry.batch;
    const file = `recipes/${slug}/index.html`;
    const html = createPages(demo.content).file(`recipes/${slug}/index.html`);
    const codes = (text: string): string[] =>
      privateFigures(file, text, demo.archive).map(({ code, found }) => `${code}: ${found}`);
    expect(codes(html)).toEqual([]);
    expect(codes(html.replace(/("altitude_m":\{"value":)\d+/, '$1123'))).toEqual([
      expect.stringMatching(/^private-figure: the exact altitude of the kitchen/),
    ]);
    expect(codes(html.replace('"brewed":null', '"brewed":"2026-01-02"'))).toHaveLength(1);
    expect(codes(html.replace('"readings":{}', '"readings":{"boil_started":"12:00"}'))).toHaveLength(1);
    expect(isFar(entry.batch.setup, 'metric')).toBe(false);
  });
});
