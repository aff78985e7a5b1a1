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
import { fault, quoted, shapeOf } from './value-fault.ts';

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
  const known = `format 1${FORMAT === 1 ? '' : ` to ${FORMAT}`}`;
  return errorAt(['format'], fault('newer-format', { format, known }));
}

/** `content/setups.yaml`: every setup by its key, null where it has an error of its own. */
export function checkSetups(
  raw: unknown,
  units: Units,
): { readonly setups: ReadonlyMap<string, Setup | null>; readonly problems: readonly Problem[] } {
  const report = new Report(units);
  const setups = new Map<string, Setup | null>();
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) {
    report.error('wrong-shape', [], {
      found: shapeOf(raw),
      expected: 'setups by name, each with its keys below it',
      what: `for example stove: and below it, indented, kettle: ${report.text(15, 'volume')}`,
    });
    return { setups, problems: report.problems };
  }
  const schema = setupSchema(units);
  for (const [key, value] of Object.entries(raw)) {
    const name = readSlug(key);
    if (!name.ok) {
      report.add([errorAt([key], name)]);
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
    report.error('heat-twice', [...at, 'heats']);
    return false;
  }
  if (data.heats && data.heats.to.value <= data.heats.from.value) {
    const { from, to } = data.heats;
    report.error('heats-backwards', [...at, 'heats', 'to'], { from: from.written, to: to.written });
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
    const item = 'ingredient with "- " and its name:';
    report.error('wrong-shape', [], { found: shapeOf(raw), expected: 'a list of ingredients', item });
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
      report.error('ingredient-twice', [index, 'name'], { name: quoted(row.name), kind: row.kind });
      return;
    }
    seen.add(key);
    rows.push(row);
  });
  return { rows, problems: report.problems };
}
