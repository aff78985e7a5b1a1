import { resolve } from 'node:path';
import type { Brewery } from '../batch/types/brewery.ts';
import type { Ingredient } from '../batch/types/ingredient.ts';
import type { Setup } from '../batch/types/setup.ts';
import { nearest } from '../units/parse/nearest.ts';
import type { Problem } from '../units/problem.ts';
import type { Archive } from './archive.ts';
import { FILE_PROBLEMS, fileProblem } from './codes.ts';
import { withPrinted } from './printed.ts';
import { type ArchiveMemory, type BatchRead, readBatches } from './read-batches.ts';
import { sha256 } from './read-memory.ts';
import { below, isNames, listBelow, readBelow, shownPath } from './safe-read.ts';
import { DEFAULT_BREWERY } from './schema/brewery-schema.ts';
import type { Surroundings } from './schema/check-batch.ts';
import { checkBrewery, checkSetups, checkTable } from './schema/check-tables.ts';
import { example } from './schema/examples.ts';
import { tablesOf } from './schema/names.ts';
import { quoted } from './schema/value-fault.ts';
import { recoverAll } from './write/replace.ts';
import { inOrder, type LocatedProblem } from './yaml/located.ts';
import { readYamlWithProblems } from './yaml/problems.ts';
import { locateProblem, locateProblems, locateText, type Source } from './yaml/source.ts';

/**
 * Reads the whole content folder and the tables; of files of a newer format nothing is read but that. Nothing throws for
 * what a brewer wrote: every problem of every file is in `problems`, and a batch with an error is left out of `batches`.
 * With a memory, batch files that are the same as before are not checked again, and give the very same batches.
 */
export async function readArchive(
  contentDir: string,
  options: { readonly tablesDir: string; readonly memory?: ArchiveMemory },
): Promise<Archive> {
  const problems: LocatedProblem[] = [];
  const content = resolve(contentDir);
  const names = listBelow(content, content);
  const shared = readSharedTables(options.tablesDir, problems, options.memory?.tables);
  if (names === null || !isNames(names)) {
    problems.push(
      locateText(shownPath(content), '', names ?? fileProblem('content-missing', 0, 'no such folder')),
    );
    return emptyArchive(shared, problems);
  }
  const brewery = readBrewery(content, problems);
  if (brewery === 'newer') return emptyArchive(shared, problems);
  await recoverAll(content);
  const setups = readSetups(content, brewery, problems);
  const own = readOwnTable(content, brewery, problems);
  const found: Surroundings = { units: brewery.units, setups, tables: tablesOf(own, shared) };
  const around = options.memory?.around(found) ?? found;
  const read = readBatches(content, around, problems, options.memory);
  for (const { problems: own } of read) problems.push(...own);
  checkBasedOn(read, problems);
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

function emptyArchive(shared: readonly Ingredient[], problems: readonly LocatedProblem[]): Archive {
  return {
    brewery: DEFAULT_BREWERY,
    setups: new Map(),
    tables: tablesOf(shared),
    batches: [],
    problems,
    files: new Map(),
    failed: [],
  };
}

/** A YAML file: its value, its source for locating, or null where it is absent or cannot be read. */
function readYamlFile(
  path: string,
  root: string,
  problems: LocatedProblem[],
): { value: unknown; source: Source } | 'absent' | 'unreadable' {
  const file = shownPath(path);
  const read = readBelow(path, root);
  if (read.kind === 'absent') return 'absent';
  if (read.kind === 'problem') {
    problems.push(locateText(file, '', read.problem));
    return 'unreadable';
  }
  const yaml = readYamlWithProblems(read.text);
  for (const problem of yaml.problems) problems.push(locateText(file, read.text, problem));
  if (yaml.value === undefined) return 'unreadable';
  return { value: yaml.value, source: { file, text: read.text, yaml: read.text, start: 0 } };
}

function readSharedTables(
  tablesDir: string,
  problems: LocatedProblem[],
  known: ArchiveMemory['tables'] = new Map(),
): readonly Ingredient[] {
  const names = listBelow(resolve(tablesDir), resolve(tablesDir));
  if (names === null || !isNames(names)) {
    problems.push(
      locateText(
        shownPath(resolve(tablesDir)),
        '',
        names ?? fileProblem('tables-missing', 0, 'no such folder'),
      ),
    );
    return [];
  }
  const paths = names.filter((name) => name.endsWith('.yaml')).map((name) => below(tablesDir, name));
  const lists = paths.map((path) => {
    const file = readBelow(path, resolve(tablesDir));
    const hash = file.kind === 'text' ? sha256(file.bytes) : '';
    const before = known.get(hash);
    if (before !== undefined) return before;
    const told = problems.length;
    const read = readYamlFile(path, resolve(tablesDir), problems);
    if (typeof read === 'string') return [];
    const { rows, problems: found } = checkTable(read.value, 'metric');
    problems.push(...locateProblems(read.source, found));
    if (problems.length === told) known.set(hash, rows);
    return rows;
  });
  return lists.flat();
}

function readBrewery(content: string, problems: LocatedProblem[]): Brewery | 'newer' {
  const path = below(content, 'brewery.yaml');
  const read = readYamlFile(path, content, problems);
  if (read === 'absent') {
    const missing = locateText(shownPath(path), '', fileProblem('brewery-missing', 0, 'no such file'));
    problems.push({ ...missing, severity: 'warning' });
    return DEFAULT_BREWERY;
  }
  if (read === 'unreadable') return DEFAULT_BREWERY;
  const { brewery, problems: found } = checkBrewery(read.value);
  problems.push(...locateProblems(read.source, found));
  if (found.some(({ code }) => code === 'newer-format')) return 'newer';
  return brewery ?? DEFAULT_BREWERY;
}

/** What says that a content folder is of a newer version of this program, which must not touch it; none where it is not. */
export function newerContent(contentDir: string): readonly LocatedProblem[] {
  const problems: LocatedProblem[] = [];
  return readBrewery(resolve(contentDir), problems) === 'newer' ? problems : [];
}

function readSetups(
  content: string,
  brewery: Brewery,
  problems: LocatedProblem[],
): ReadonlyMap<string, Setup | null> {
  const path = below(content, 'setups.yaml');
  const read = readYamlFile(path, content, problems);
  if (read === 'absent') {
    const mend = example(brewery.units, FILE_PROBLEMS['setups-missing'][2]);
    const missing = fileProblem('setups-missing', 0, 'no such file', { mend });
    problems.push(locateText(shownPath(path), '', missing));
  }
  if (typeof read === 'string') return new Map();
  const { setups, problems: found } = checkSetups(read.value, brewery.units);
  problems.push(...locateProblems(read.source, found));
  return setups;
}

function readOwnTable(content: string, brewery: Brewery, problems: LocatedProblem[]): readonly Ingredient[] {
  const read = readYamlFile(below(content, 'ingredients.yaml'), content, problems);
  if (typeof read === 'string') return [];
  const { rows, problems: found } = checkTable(read.value, brewery.units);
  problems.push(...locateProblems(read.source, found));
  return rows;
}

/** A batch that is based on one that is not there is worth a word, no more: the old file may be elsewhere. */
function checkBasedOn(read: readonly BatchRead[], problems: LocatedProblem[]): void {
  const slugs = read.map(({ slug }) => slug);
  const known = new Set(slugs);
  for (const { basedOn, source } of read) {
    if (basedOn === null || source === null || known.has(basedOn)) continue;
    const near = nearest(basedOn, slugs)[0];
    const problem: Problem = {
      severity: 'warning',
      code: 'unknown-batch',
      path: ['based_on'],
      found: quoted(basedOn),
      expected: 'the file name, without .md, of another batch',
      mend: near === undefined ? 'correct the name or remove the key' : `write ${near}`,
    };
    problems.push(locateProblem(source, problem));
  }
}
