/** What was printed is kept, and is what readings are held against. */
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { keepPrinted, keptSheets } from '../../../lib/archive/printed.ts';
import { printedTargets } from '../../../lib/batch/types/plan.ts';
import { loadSite } from '../../../lib/site/archive.ts';
import { paperNote } from '../../../lib/site/key-in/page.ts';
import { beginSession, readKit } from '../../../lib/site/key-in/session.ts';
import { batchView } from '../../../lib/site/pages/batch-view.ts';
import { publish } from '../../../lib/site/site.ts';
import { type Kitchen, kitchen } from '../../key-in/serving.ts';

const SLUG = 'hedge-hop-pale';
let room: Kitchen;
let brewed: string;
beforeEach(() => {
  room = kitchen([SLUG]);
  brewed = room.text(SLUG);
});
afterEach(() => room.remove());

const planned = () => brewed.replace(/^readings:\n(?: .*\n)*/m, '');
/** The recipe as it was changed after it had been printed: more extract, a higher gravity. */
const changed = (text: string) => text.replace('weight: 540 g', 'weight: 700 g');
const loaded = async () => {
  const { content, problems } = await loadSite(room.content);
  expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  const [entry] = content.entries;
  return { content, entry: entry!, problems: problems.filter(({ file }) => file.includes('printed/')) };
};
/** Prints the batch as its file is; `blanks` stand for what the browser measured. */
async function print(blanks: Readonly<Record<string, unknown>> = {}) {
  const { entry } = await loaded();
  await keepPrinted(room.content, entry, { fields: [], ...blanks });
  return entry.plan;
}
const folder = () => join(room.content, 'printed', SLUG);

it('readings are held against what was printed, whatever became of the recipe', async () => {
  room.write(SLUG, planned());
  const plan = await print();
  room.write(SLUG, changed(brewed));
  const { content, entry } = await loaded();
  expect(entry.plan.revision).not.toBe(plan.revision);
  expect(entry.plan.targets.original_gravity!.value).toBeGreaterThan(
    plan.targets.original_gravity!.printed.high,
  );
  expect(printedTargets(entry.plan).original_gravity!.printed).toEqual(
    plan.targets.original_gravity!.printed,
  );
  expect(entry.plan.readings.original_gravity?.verdict).toBe('fine');
  const view = batchView(entry, publish(content), '');
  expect(view.printed).toBe(plan.revision);
  const { low, high } = plan.targets.original_gravity!.printed;
  expect(view.comparison.find(({ label }) => label === 'Original gravity')?.between).toBe(
    `${low.toFixed(3)} to ${high.toFixed(3)}`,
  );
  const begun = beginSession(await readKit(room.content), SLUG);
  expect(begun.ok && begun.session.printed?.revision).toBe(plan.revision);
  expect(begun.ok && paperNote(begun.session)).toContain(plan.revision);
});

it('without paper that was kept they are held against the plan as it is', async () => {
  room.write(SLUG, changed(brewed));
  const { content, entry } = await loaded();
  expect(entry.plan.printed).toBeUndefined();
  expect(entry.plan.readings.original_gravity?.verdict).not.toBe('fine');
  expect(batchView(entry, publish(content), '').printed).toBeNull();
});

it('a page says nothing of paper that says what the plan says', async () => {
  room.write(SLUG, planned());
  await print();
  room.write(SLUG, brewed);
  const { content, entry } = await loaded();
  expect(entry.plan.printed?.revision).toBe(entry.plan.revision);
  expect(batchView(entry, publish(content), '').printed).toBeNull();
});

it('what is printed once there are readings did not hang on the wall', async () => {
  room.write(SLUG, planned());
  const { revision } = await print();
  room.write(SLUG, changed(brewed));
  await print();
  expect(readdirSync(folder())).toEqual([`${revision}.json`]);
});

it('every revision is kept, and the one printed last counts, be it an earlier one again', async () => {
  room.write(SLUG, planned());
  const first = await print();
  room.write(SLUG, changed(planned()));
  const second = await print();
  const order = () => keptSheets(room.content, SLUG).map(({ revision }) => revision);
  expect(order()).toEqual([second.revision, first.revision]);
  room.write(SLUG, planned());
  await print();
  expect(order()).toEqual([first.revision, second.revision]);
  room.write(SLUG, brewed);
  expect((await loaded()).entry.plan.printed?.revision).toBe(first.revision);
});

it('printing the same again writes nothing, and leaves nothing unfinished', async () => {
  room.write(SLUG, planned());
  const { revision } = await print();
  const path = join(folder(), `${revision}.json`);
  const before = statSync(path, { bigint: true });
  await print();
  const after = statSync(path, { bigint: true });
  expect([after.mtimeNs, after.ino]).toEqual([before.mtimeNs, before.ino]);
  await print({ fields: [{ id: 'A1' }] });
  // A new file came into the place of the old one: nobody ever saw half of it.
  expect(statSync(path, { bigint: true }).ino).not.toBe(before.ino);
  expect(JSON.parse(readFileSync(path, 'utf8'))).toMatchObject({ number: 1, fields: [{ id: 'A1' }] });
  expect(readdirSync(folder())).toEqual([`${revision}.json`]);
});

it.each([
  ['cut short', /not JSON/, (text: string) => text.slice(0, text.length / 2)],
  ['of another batch', /"first-water"/, (text: string) => text.replace(SLUG, 'first-water')],
  [
    'with a figure that is none',
    / at targets\.\w+\.value$/,
    (text: string) => text.replace(/"value":[\d.]+/, '"value":"high"'),
  ],
])('a file %s counts as not there, and says so', async (_, found, spoilt) => {
  room.write(SLUG, planned());
  const { revision } = await print();
  const path = join(folder(), `${revision}.json`);
  writeFileSync(path, spoilt(readFileSync(path, 'utf8')));
  room.write(SLUG, brewed);
  const { entry, problems } = await loaded();
  expect(entry.plan.printed).toBeUndefined();
  expect(problems).toEqual([
    expect.objectContaining({
      file: expect.stringContaining(`printed/${SLUG}/${revision}.json`),
      code: 'printed-damaged',
      found: expect.stringMatching(found),
      mend: expect.stringContaining('delete it'),
      severity: 'warning',
    }),
  ]);
});
