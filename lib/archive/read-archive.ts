import { resolve } from 'node:path';
import type { Brewery } from '../batch/types/brewery.ts';
import type { Ingredient } from '../batch/types/ingredient.ts';
import type { Setup } from '../batch/types/setup.ts';
import type { Units } from '../units/dimension.ts';
import { formatSample } from '../units/format/format.ts';
import { hasTwelveHours } from '../units/parse/clock.ts';
import { nearest } from '../units/parse/nearest.ts';
import { type Problem, warningAt } from '../units/problem.ts';
import type { Archive } from './archive.ts';
import { fileProblem } from './codes.ts';
import { hashOf } from './open-batch.ts';
import { withPrinted } from './printed.ts';
import { type ArchiveMemory, type BatchRead, createArchiveMemory, readBatches } from './read-batches.ts';
import { below, isNames, listBelow, readBelow, shownPath } from './safe-read.ts';
import { DEFAULT_BREWERY } from './schema/brewery-schema.ts';
import type { Surroundings } from './schema/check-batch.ts';
import { checkBrewery, checkSetups, checkTable } from './schema/check-tables.ts';
import { tablesOf } from './schema/names.ts';
import { fault, quoted } from './schema/value-fault.ts';
import { recoverAll } from './write/replace.ts';
import { inOrder, type LocatedProblem } from './yaml/located.ts';
import { readYamlWithProblems } from './yaml/problems.ts';
import { locateProblem, locateProblems, locateText } from './yaml/source.ts';

/**
 * Reads the whole content folder and the tables; of files of a newer format nothing is read but that. Nothing throws for
 * what a brewer wrote: every problem of every file is in `problems`, and a batch with an error is left out of `batches`.
 * With a memory, batch files that are the same as before are not checked again, and give the very same batches.
 */
export async function readArchive(
  contentDir: string,
  {
    tablesDir,
    memory = createArchiveMemory(),
  }: { readonly tablesDir: string; readonly memory?: ArchiveMemory },
): Promise<Archive> {
  const problems: LocatedProblem[] = [];
  const content = resolve(contentDir);
  const shared = readSharedTables(resolve(tablesDir), problems, memory.tables);
  const names = namesIn(content, 'content-missing', problems);
  if (names === null) return emptyArchive(shared, problems);
  const brewery = readBrewery(content, problems);
  if (brewery === 'newer') return emptyArchive(shared, problems);
  await recoverAll(content);
  const stated = readSetups(content, brewery, problems);
  const setups = stated ?? new Map<string, Setup | null>();
  const own = readTable(below(content, 'ingredients.yaml'), content, brewery.units, problems);
  const found: Surroundings = {
    units: brewery.units,
    twelveHours: hasTwelveHours(brewery.language),
    setups,
    tables: tablesOf(own, shared),
  };
  const around = memory.around(found);
  const read = readBatches(content, around, problems, memory);
  for (const { problems: own } of read) problems.push(...own);
  checkBasedOn(read, problems);
  // Batches that bring their own kitchens need none of this file.
  const isUnexplained = ({ batch, problems: own }: BatchRead) =>
    batch === null && !own.some(({ severity }) => severity === 'error');
  const needed = read.length === 0 || read.some(isUnexplained);
  if (stated === null && needed) problems.push(setupsMissing(content, brewery));
  const sound = read.flatMap(({ batch, source }) => (batch && source ? [{ batch, source }] : []));
  const batches = sound.map(({ batch }) => withPrinted(batch, content, problems));
  problems.sort(inOrder);
  return {
    brewery,
    setups: new Map([...setups].flatMap(([key, setup]) => (setup ? [[key, setup] as const] : []))),
    tables: around.tables,
    batches,
    problems,
    files: new Map(sound.map(({ batch, source }) => [batch.slug, source])),
    failed: read.filter(({ batch }) => batch === null).map(({ slug }) => slug),
  };
}

const emptyArchive = (shared: readonly Ingredient[], problems: readonly LocatedProblem[]): Archive => ({
  brewery: DEFAULT_BREWERY,
  setups: new Map(),
  tables: tablesOf(shared),
  batches: [],
  problems,
  files: new Map(),
  failed: [],
});

/** Names in a folder; null where there is none or it cannot be listed, which is reported. */
function namesIn(
  folder: string,
  missing: 'content-missing' | 'tables-missing',
  problems: LocatedProblem[],
): readonly string[] | null {
  const names = listBelow(folder, folder);
  if (names !== null && isNames(names)) return names;
  problems.push(locateText(shownPath(folder), '', names ?? fileProblem(missing, 0)));
  return null;
}

/** What a check makes of the data of a YAML file. */
function readChecked<T extends { readonly problems: readonly Problem[] }>(
  path: string,
  root: string,
  problems: LocatedProblem[],
  check: (value: unknown) => T,
): T | 'absent' | 'unreadable' {
  const file = shownPath(path);
  const read = readBelow(path, root);
  if (read.kind === 'absent') return 'absent';
  if (read.kind === 'problem') {
    problems.push(locateText(file, '', read.problem));
    return 'unreadable';
  }
  const { text } = read;
  const yaml = readYamlWithProblems(text);
  for (const problem of yaml.problems) problems.push(locateText(file, text, problem));
  if (yaml.value === undefined) return 'unreadable';
  const checked = check(yaml.value);
  problems.push(...locateProblems({ file, text, yaml: text, start: 0 }, checked.problems));
  return checked;
}

function readSharedTables(
  folder: string,
  problems: LocatedProblem[],
  known: ArchiveMemory['tables'],
): readonly Ingredient[] {
  const names = namesIn(folder, 'tables-missing', problems) ?? [];
  return names
    .filter((name) => name.endsWith('.yaml'))
    .flatMap((name) => {
      const path = below(folder, name);
      const file = readBelow(path, folder);
      const hash = file.kind === 'text' ? hashOf(file.bytes) : '';
      const before = known.get(hash);
      if (before !== undefined) return before;
      const count = problems.length;
      const rows = readTable(path, folder, 'metric', problems);
      if (problems.length === count) known.set(hash, rows);
      return rows;
    });
}

function readTable(path: string, root: string, units: Units, problems: LocatedProblem[]) {
  const read = readChecked(path, root, problems, (value) => checkTable(value, units));
  return typeof read === 'string' ? [] : read.rows;
}

function readBrewery(content: string, problems: LocatedProblem[]): Brewery | 'newer' {
  const path = below(content, 'brewery.yaml');
  const read = readChecked(path, content, problems, checkBrewery);
  if (read === 'absent') {
    const missing = locateText(shownPath(path), '', fileProblem('brewery-missing', 0));
    problems.push({ ...missing, severity: 'warning' });
  }
  if (typeof read === 'string') return DEFAULT_BREWERY;
  if (read.problems.some(({ code }) => code === 'newer-format')) return 'newer';
  return read.brewery ?? DEFAULT_BREWERY;
}

/** What says that a content folder is of a newer version of this program, which must not touch it; none where it is not. */
export function newerContent(contentDir: string): readonly LocatedProblem[] {
  const problems: LocatedProblem[] = [];
  return readBrewery(resolve(contentDir), problems) === 'newer' ? problems : [];
}

/** Null where there is no such file. */
function readSetups(
  content: string,
  { units }: Brewery,
  problems: LocatedProblem[],
): Surroundings['setups'] | null {
  const path = below(content, 'setups.yaml');
  const read = readChecked(path, content, problems, (value) => checkSetups(value, units));
  if (read === 'absent') return null;
  return typeof read === 'string' ? new Map() : read.setups;
}

function setupsMissing(content: string, { units }: Brewery): LocatedProblem {
  const missing = fileProblem('setups-missing', 0, { kettle: formatSample(15, 'volume', units) });
  return locateText(shownPath(below(content, 'setups.yaml')), '', missing);
}

/** A batch that is based on one that is not there is worth a word, no more: the old file may be elsewhere. */
function checkBasedOn(read: readonly BatchRead[], problems: LocatedProblem[]): void {
  const slugs = read.map(({ slug }) => slug);
  const known = new Set(slugs);
  for (const { basedOn, source } of read) {
    if (basedOn === null || source === null || known.has(basedOn)) continue;
    const near = nearest(basedOn, slugs)[0];
    const unknown = fault('unknown-batch', { name: quoted(basedOn), near });
    problems.push(locateProblem(source, warningAt(['based_on'], unknown)));
  }
}
