import type { Brewery } from '../../batch/types/brewery.ts';
import type { Ingredient } from '../../batch/types/ingredient.ts';
import type { Setup } from '../../batch/types/setup.ts';
import type { Units } from '../../units/dimension.ts';
import { errorAt, type KeyPath, type Problem } from '../../units/problem.ts';
import { breweryFrom, brewerySchema, FORMAT } from './brewery-schema.ts';
import { ingredientFrom, rowSchema } from './ingredients-schema.ts';
import { problemsOf } from './issues.ts';
import { plainName } from './names.ts';
import { Report } from './report.ts';
import { readSlug } from './scalars.ts';
import { setupFrom } from './setup-figures.ts';
import { type SetupData, setupSchema } from './setups-schema.ts';
import { quoted, shapeOf } from './value-fault.ts';

/** `content/brewery.yaml`; null where it has an error. */
export function checkBrewery(raw: unknown): {
  readonly brewery: Brewery | null;
  readonly problems: readonly Problem[];
} {
  const newer = newerFormat(raw);
  // What else a newer file holds is not for this program to judge.
  if (newer !== null) return { brewery: null, problems: [newer] };
  const parsed = brewerySchema.safeParse(raw ?? {});
  if (parsed.success) return { brewery: breweryFrom(parsed.data), problems: [] };
  return { brewery: null, problems: problemsOf(parsed.error.issues, raw ?? {}, brewerySchema) };
}

function newerFormat(raw: unknown): Problem | null {
  const format = typeof raw === 'object' && raw !== null && 'format' in raw ? raw.format : undefined;
  if (typeof format !== 'string' || !/^[0-9]{1,9}$/.test(format) || Number(format) <= FORMAT) return null;
  const expected = `format 1${FORMAT === 1 ? '' : ` to ${FORMAT}`}, all that this version knows`;
  const mend = 'install a newer version of Kettleside; none of your files was changed';
  return errorAt('newer-format', ['format'], `files of format ${format}`, expected, mend);
}

/** `content/setups.yaml`: every setup by its key, null where it has an error of its own. */
export function checkSetups(
  raw: unknown,
  units: Units,
): { readonly setups: ReadonlyMap<string, Setup | null>; readonly problems: readonly Problem[] } {
  const report = new Report(units);
  const setups = new Map<string, Setup | null>();
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) {
    const mend = `write for example stove: and below it, indented, kettle: ${report.text(15, 'volume')}`;
    report.error('wrong-shape', [], shapeOf(raw), 'setups by name, each with its keys below it', mend);
    return { setups, problems: report.problems };
  }
  const schema = setupSchema(units);
  for (const [key, value] of Object.entries(raw)) {
    const name = readSlug(key);
    if (!name.ok) {
      report.error(name.code, [key], name.found, name.expected, name.mend);
      continue;
    }
    const parsed = schema.safeParse(value);
    if (!parsed.success) {
      report.add(problemsOf(parsed.error.issues, value, schema, [key]));
      setups.set(key, null);
      continue;
    }
    const sound = checkHeat([key], parsed.data, report);
    setups.set(key, sound ? setupFrom(key, parsed.data) : null);
  }
  return { setups, problems: report.problems };
}

export function checkHeat(at: KeyPath, data: SetupData, report: Report): boolean {
  if (data.heat && data.heats) {
    const mend = 'keep heats: where you have timed your stove, else heat:';
    report.error('heat-twice', [...at, 'heats'], 'heat: and heats:', 'one of the two', mend);
    return false;
  }
  if (data.heats && data.heats.to.value <= data.heats.from.value) {
    const found = `"${data.heats.to.written}", not above ${data.heats.from.written}`;
    const mend = 'write the colder temperature at from: and the warmer at to:';
    report.error('heats-backwards', [...at, 'heats', 'to'], found, 'a temperature above that of from:', mend);
    return false;
  }
  return true;
}

/** A table of ingredients, of `shared/` or of the brewer: its sound rows, and what is wrong with the others. */
export function checkTable(
  raw: unknown,
  units: Units,
): { readonly rows: readonly Ingredient[]; readonly problems: readonly Problem[] } {
  const report = new Report(units);
  const rows: Ingredient[] = [];
  if (raw === null || raw === undefined) return { rows, problems: [] };
  if (!Array.isArray(raw)) {
    const mend = 'begin each ingredient with "- " and its name:';
    report.error('wrong-shape', [], shapeOf(raw), 'a list of ingredients', mend);
    return { rows, problems: report.problems };
  }
  const seen = new Set<string>();
  raw.forEach((value: unknown, index) => {
    const kind = typeof value === 'object' && value !== null ? (value as { kind?: unknown }).kind : undefined;
    const schema = rowSchema(units, kind);
    const parsed = schema.safeParse(value);
    if (!parsed.success) {
      report.add(problemsOf(parsed.error.issues, value, schema, [index]));
      return;
    }
    const row = ingredientFrom(parsed.data);
    const key = `${row.kind} ${plainName(row.name)}`;
    if (seen.has(key)) {
      const [expected, mend] = [
        `one row for each ${row.kind}`,
        'remove one of the two, or give it another name',
      ];
      report.error('ingredient-twice', [index, 'name'], quoted(row.name), expected, mend);
      return;
    }
    seen.add(key);
    rows.push(row);
  });
  return { rows, problems: report.problems };
}
