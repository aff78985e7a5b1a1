import type { Batch } from '../../batch/types/batch.ts';
import type { Setup } from '../../batch/types/setup.ts';
import type { Units } from '../../units/dimension.ts';
import { nearest } from '../../units/parse/nearest.ts';
import type { KeyPath, Problem } from '../../units/problem.ts';
import { type BatchData, batchSchema } from './batch-schema.ts';
import { checkReadings } from './check-readings.ts';
import { checkHeat } from './check-tables.ts';
import { isMisspelt, keysAt, problemsOf, valueAt } from './issues.ts';
import type { Tables } from './names.ts';
import { withPlainTimes } from './plain-times.ts';
import { Report } from './report.ts';
import { resolveReadings } from './resolve-readings.ts';
import { resolveRecipe } from './resolve-recipe.ts';
import { listed } from './scalars.ts';
import { setupFrom } from './setup-figures.ts';
import { soundPart } from './valid-subset.ts';
import { quoted } from './value-fault.ts';

/** What a batch file depends on. A setup with an error of its own is null: it is known, and already reported. */
export interface Surroundings {
  readonly units: Units;
  /** Whether times are written by a clock of twelve hours. */
  readonly twelveHours?: boolean;
  readonly setups: ReadonlyMap<string, Setup | null>;
  readonly tables: Tables;
}

export interface Checked {
  /** Null where anything is an error, here or in the setup. */
  readonly batch: Batch | null;
  readonly problems: readonly Problem[];
}

/** Validates one frontmatter, looks up what it names and reports everything that is wrong with it. */
export function checkBatch(
  slug: string,
  written: Readonly<Record<string, unknown>>,
  notes: string,
  around: Surroundings,
): Checked {
  const raw = withPlainTimes(written, around.twelveHours ?? false);
  const schema = batchSchema(around.units, around.twelveHours);
  const parsed = schema.safeParse(raw);
  const report = new Report(around.units);
  if (parsed.success) {
    const batch = resolveBatch(slug, parsed.data, raw, notes, around, report);
    return { batch: report.failed ? null : batch, problems: report.problems };
  }
  report.add(problemsOf(parsed.error.issues, raw, schema));
  const sound = soundPart(schema, raw);
  if (sound !== null) {
    const rest = new Report(around.units);
    resolveBatch(slug, sound.data, raw, notes, around, rest);
    report.add(rest.problems.map((problem) => ({ ...problem, path: sound.original(problem.path) })));
  }
  return { batch: null, problems: report.problems };
}

function resolveBatch(
  slug: string,
  data: BatchData,
  raw: Readonly<Record<string, unknown>>,
  notes: string,
  around: Surroundings,
  report: Report,
): Batch | null {
  const schema = batchSchema(around.units);
  // A misspelt key was reported as such, and is not reported again as missing.
  const written = (parent: KeyPath, key: string) => {
    const value = valueAt(raw, [...parent, key]);
    return (
      (value !== undefined && value !== null) || isMisspelt(key, valueAt(raw, parent), keysAt(schema, parent))
    );
  };
  const has = (key: string) => written(['recipe'], key);
  const setup = chooseSetup(
    slug,
    data,
    written([], 'setup') || written([], 'kitchen'),
    around.setups,
    report,
  );
  const recipe = resolveRecipe(data.recipe, around.tables, has, report.below('recipe'));
  if (setup === null) return null;
  const batch: Batch = {
    slug,
    title: data.title,
    number: data.number ?? null,
    brewed: data.brewed ?? null,
    start: data.start ?? null,
    setup,
    style: data.style ?? null,
    tags: data.tags ?? [],
    basedOn: data.based_on ?? null,
    pictures: data.pictures ?? [],
    publish: PUBLISH[data.publish ?? 'true'],
    recipe,
    readings: resolveReadings(data.readings),
    notes,
  };
  report.add(checkReadings(batch));
  return batch;
}

const PUBLISH = { true: 'all', false: 'nothing', recipe: 'recipe' } as const;

/** The setup that is named; else the kitchen in the file itself; else the only one there is. */
function chooseSetup(
  slug: string,
  { title, setup: key, kitchen }: Pick<BatchData, 'title' | 'setup' | 'kitchen'>,
  written: boolean,
  setups: ReadonlyMap<string, Setup | null>,
  report: Report,
): Setup | null {
  const known = [...setups.keys()];
  if (key != null) {
    const setup = setups.get(key);
    const facts = { setup: quoted(key), known: listed(known), near: nearest(key, known)[0] };
    if (setup === undefined && known.length > 0) report.error('unknown-setup', ['setup'], facts);
    return setup ?? null;
  }
  if (kitchen != null)
    return checkHeat(['kitchen'], kitchen, report)
      ? setupFrom(`kitchen of ${slug}`, { ...kitchen, title: kitchen.title ?? `The kitchen of ${title}` })
      : null;
  if (known.length === 1) return setups.get(known[0] ?? '') ?? null;
  // A setup that cannot be read has been reported as such.
  const [first, second] = known;
  if (first !== undefined && second !== undefined && !written)
    report.error('setup-missing', ['setup'], { known: listed(known), first });
  return null;
}
