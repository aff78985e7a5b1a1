/** What a batch's page says of the kit agrees with what the kit's page leaves out. */
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../lib/batch/types/batch.ts';
import { kitView } from '../../lib/site/pages/kit-view.ts';
import { saysView } from '../../lib/site/pages/says-view.ts';
import { createPages } from '../../lib/site/pages.ts';
import { publish } from '../../lib/site/site.ts';
import { saysOf } from '../../lib/words/learning-view.ts';
import { loadDemo } from '../browser/demo.ts';

const demo = await loadDemo();
const read = demo.loaded.content.asRead ?? [];
const site = publish(demo.loaded.content);

/** The demo with one batch's volume after the boil read far too small. */
const changed = (slug: string): readonly Batch[] =>
  read.map((batch) => {
    if (batch.slug !== slug) return batch;
    const { readings } = batch;
    const volume = readings.boil_end_volume;
    if (volume === undefined || volume === 'not taken') throw new Error(slug);
    return {
      ...batch,
      readings: { ...readings, boil_end_volume: { ...volume, value: volume.value / 2 } },
    };
  });

const SLUG = read.find(
  ({ readings, publish: shown }) =>
    shown === 'all' && typeof readings.boil_end_volume === 'object' && readings.abandoned === undefined,
)!.slug;

describe.each([
  ['as it is', read],
  ['with a slip in it', changed(SLUG)],
] as const)('the demo %s', (_, batches) => {
  const says = saysView(site, batches);
  const kit = kitView(site, batches);

  it('calls the same figures left out on both pages', () => {
    const onKit = [...kit.setups.flatMap(({ figures }) => figures), ...kit.yeasts].flatMap(
      ({ label, outliers }) => outliers.map(({ href }) => `${href} ${label}`),
    );
    const onBatches = batches
      .filter(({ slug, publish: shown }) => shown === 'all' && site.bySlug.has(slug))
      .flatMap((batch) =>
        says(batch)
          .filter(({ remark }) => remark.startsWith('left out'))
          .map(({ label }) => `batches/${batch.slug}/index.html ${label.replace(': attenuation', '')}`),
      );
    // Hops are not told of on a batch's own page.
    expect(onBatches.sort()).toEqual(onKit.filter((one) => !one.includes('held by the hops')).sort());
    if (batches !== read) expect(onBatches.some((one) => one.includes(SLUG))).toBe(true);
  });
});

it('a share of more than the whole is remarked on where nothing is learned from it', () => {
  const found = { slug: 'x', brewed: '2026-02-14', value: 1.26, u: 0.2, doubts: [] };
  const evidence = { kit: { steep_efficiency: found, boil_off: found }, attenuation: null };
  expect(saysOf(evidence, 'metric', () => null).map(({ label, remark }) => [label, remark])).toEqual([
    ['Steep efficiency', 'more than there is: one of the readings is off'],
    ['Evaporation', ''],
  ]);
  const [steep] = saysOf(evidence, 'us', () => ({ outlier: true, residual: -4.81 }));
  expect(steep!.remark).toBe('left out of what is learned: 4.8 standard uncertainties off');
});

describe('the kit’s page without a figure of the kit', () => {
  const page = (content: typeof demo.loaded.content): string => createPages(content).file('kit/index.html');
  const NONE = 'No batch with readings is published yet.';

  it('says that nothing was read only where that is so', () => {
    const unread = read.map((batch) => ({ ...batch, readings: {} }));
    const silent = page({ ...demo.loaded.content, asRead: unread });
    expect(silent).toContain('id="calibration"');
    expect(silent).not.toContain(NONE);
    expect(silent).toContain('What has been read so far tells nothing of the kit.');
    expect(page({ ...demo.loaded.content, entries: [], asRead: [] })).toContain(NONE);
    expect(page(demo.loaded.content)).not.toMatch(/No batch with readings|tells nothing of the kit/);
  });
});
