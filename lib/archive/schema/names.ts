import type { Ingredient } from '../../batch/types/ingredient.ts';
import { nearest } from '../../units/parse/nearest.ts';

/** Ingredients by name, the brewer's own before the project's. */
export interface Tables {
  readonly rows: readonly Ingredient[];
  readonly byName: ReadonlyMap<string, readonly Ingredient[]>;
}

/** A name without regard to case, spaces, hyphens and accents. */
export function plainName(name: string): string {
  return name
    .normalize('NFKD')
    .replaceAll(/[\p{M}\s\p{Pd}_'’.]/gu, '')
    .toLowerCase();
}

/** Tables in order of precedence: of two rows with the same name and kind the earlier one counts. */
export function tablesOf(...lists: readonly (readonly Ingredient[])[]): Tables {
  const byName = new Map<string, Ingredient[]>();
  const rows = lists.flat();
  const enter = (name: string, row: Ingredient) => {
    const key = plainName(name);
    const others = byName.get(key);
    if (others === undefined) byName.set(key, [row]);
    else if (!others.includes(row)) others.push(row);
  };
  for (const list of lists) {
    for (const row of list) enter(row.name, row);
    for (const row of list) for (const name of row.also) enter(name, row);
  }
  return { rows, byName };
}

type Kinds = readonly Ingredient['kind'][];

/** The row of a name and one of these kinds, or any; own rows come first, then main names before other names. */
export const findRow = (tables: Tables, name: string, kinds?: Kinds): Ingredient | undefined =>
  tables.byName.get(plainName(name))?.find((row) => kinds === undefined || kinds.includes(row.kind));

/** The nearest names of these kinds, at most three. */
export function nearNames(tables: Tables, name: string, kinds: Kinds): string[] {
  const names = new Map<string, string>();
  for (const row of tables.rows) {
    if (kinds.includes(row.kind)) for (const known of [row.name, ...row.also]) names.set(known, row.name);
  }
  return [...new Set(nearest(name, names.keys()).map((near) => names.get(near) ?? near))];
}
