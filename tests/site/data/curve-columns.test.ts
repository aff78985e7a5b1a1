/** What the fitted curve of a fermentation says, in the table of batches. */
import { expect, it } from 'vitest';
import { dataFiles } from '../../../lib/site/data/files.ts';
import { published } from '../feeds/site.ts';

const site = published();
const { tables } = JSON.parse(dataFiles(site).get('data/archive.json')!()) as {
  tables: Record<string, { rows: Record<string, unknown>[] }>;
};
const rows = tables.batches!.rows;

it('is what plan.json says, for each batch with a curve', () => {
  const curves = site.batches.flatMap(({ batch, plan }) =>
    plan.fermentation_curve ? [[batch.slug, plan.fermentation_curve] as const] : [],
  );
  expect(curves.length).toBeGreaterThan(10);
  for (const [slug, { end_gravity, end_day }] of curves) {
    expect(rows.find(({ batch }) => batch === slug)).toMatchObject({
      // Cells have ten digits.
      end_gravity: expect.closeTo(end_gravity.value, 8),
      end_gravity_low: end_gravity.printed.low,
      end_gravity_high: end_gravity.printed.high,
      end_day_expected: end_day!.expected,
      end_day_earliest: end_day!.earliest,
      end_day_latest: end_day!.latest,
    });
  }
});

it('is empty for a recipe that is published alone, and for a batch that nobody has brewed yet', () => {
  const empty = rows.filter(({ batch }) => batch === 'sluice-recipe' || batch === 'twelfth-night-old');
  expect(empty.length).toBe(2);
  for (const row of empty) {
    expect([row.end_gravity, row.end_gravity_low, row.end_day_expected, row.end_day_latest]).toEqual([
      null,
      null,
      null,
      null,
    ]);
  }
});
