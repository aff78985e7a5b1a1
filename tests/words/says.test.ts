/** What a batch's page says of the kit agrees with what the kit's page leaves out. */
import { describe, expect, it } from 'vitest';
import { evidenceOf } from '../../lib/batch/learning/observe.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { LearnedKey } from '../../lib/batch/types/learning.ts';
import type { Readings } from '../../lib/batch/types/readings.ts';
import { kitView } from '../../lib/site/pages/kit-view.ts';
import { saysView } from '../../lib/site/pages/says-view.ts';
import { createPages } from '../../lib/site/pages.ts';
import { publish } from '../../lib/site/site.ts';
import { loadDemo } from '../browser/demo.ts';

const demo = await loadDemo();
const read = demo.loaded.content.asRead ?? [];
const site = publish(demo.loaded.content);

const shownBatches = read.filter(
  ({ publish: shown, readings }) => shown === 'all' && readings.abandoned === undefined,
);
const firstWith = (key: LearnedKey) => shownBatches.find((batch) => evidenceOf(batch).kit[key])!;
const withReadings = (slug: string, change: (readings: Readings) => Readings): readonly Batch[] =>
  read.map((batch) => (batch.slug === slug ? { ...batch, readings: change(batch.readings) } : batch));

const BOILED = firstWith('boil_off').slug;
/** Far too small a volume after the boil: the other readings of the day contradict it. */
const halved = withReadings(BOILED, (readings) => {
  const volume = readings.boil_end_volume;
  if (volume === undefined || volume === 'not taken') throw new Error(BOILED);
  return { ...readings, boil_end_volume: { ...volume, value: volume.value / 2 } };
});

const CHILLED = firstWith('chill.in').slug;
/** The clock read three hours too late: no other reading of the day knows. */
const late = withReadings(CHILLED, (readings) => {
  const { chilled } = readings;
  if (chilled === undefined || chilled === 'not taken' || chilled.at === null) throw new Error(CHILLED);
  const [hour, minute] = chilled.at.split(':');
  const at = `${String((Number(hour) + 3) % 24).padStart(2, '0')}:${minute}`;
  return { ...readings, chilled: { ...chilled, at } };
});

describe.each([
  ['as it is', read],
  ['with a volume that is doubted', halved],
  ['with a slip of the clock', late],
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
          .filter(({ remark }) => remark.startsWith('not learned from'))
          .map(({ label }) => `batches/${batch.slug}/index.html ${label.replace(': attenuation', '')}`),
      );
    // Hops are not told of on a batch's own page.
    expect(onBatches.sort()).toEqual(onKit.filter((one) => !one.includes('held by the hops')).sort());
    if (batches === late) expect(onBatches).toContain(`batches/${CHILLED}/index.html Chilled in`);
  });

  it('learns no evaporation from a volume that is doubted', () => {
    const said = says(batches.find(({ slug }) => slug === BOILED)!).map(({ label }) => label);
    expect(said.includes('Boil-off')).toBe(batches !== halved);
  });
});

describe('the kit’s page without a figure of the kit', () => {
  const page = (content: typeof demo.loaded.content): string => createPages(content).file('kit/index.html');
  const NONE = 'No batch with readings is published yet.';

  it('says that nothing was read only where that is so', () => {
    const unread = read.map((batch) => ({ ...batch, readings: {} }));
    const silent = page({ ...demo.loaded.content, asRead: unread });
    expect(silent).toContain('id="calibration"');
    expect(silent).not.toContain(NONE);
    expect(silent).toContain('The readings so far say nothing about the pots.');
    expect(page({ ...demo.loaded.content, entries: [], asRead: [] })).toContain(NONE);
    expect(page(demo.loaded.content)).not.toMatch(/No batch with readings|say nothing about the pots/);
  });
});
