import { readdirSync, readFileSync } from 'node:fs';
import { type Checked, checkBatch } from '../../../lib/archive/schema/check-batch.ts';
import { checkBrewery, checkSetups, checkTable } from '../../../lib/archive/schema/check-tables.ts';
import { type Tables, tablesOf } from '../../../lib/archive/schema/names.ts';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { readYaml } from '../../../lib/archive/yaml/read.ts';
import type { Ingredient } from '../../../lib/batch/types/ingredient.ts';
import type { Problem } from '../../../lib/units/problem.ts';
import { TABLES } from '../../tables/tables.ts';

const ROOT = new URL('../../../', import.meta.url);
/** Archives of batches, by folder from the project's root. */
export type ArchiveFolder = 'content/' | 'tests/archive/strained/us-units/';

export interface CheckedFile extends Checked {
  readonly file: string;
  readonly slug: string;
  readonly raw: Readonly<Record<string, unknown>>;
}

export interface CheckedArchive {
  readonly files: readonly CheckedFile[];
  /** Of the files beside the batches. */
  readonly problems: readonly Problem[];
}

const textOf = (path: string): string => readFileSync(new URL(path, ROOT), 'utf8');

function yaml(text: string): unknown {
  const read = readYaml(text);
  if (!read.ok) throw new Error(read.message);
  return read.value;
}

/** Markdown files of a folder that are batches. */
export function batchFiles(folder: string): readonly string[] {
  return readdirSync(new URL(folder, ROOT))
    .filter((name) => name.endsWith('.md') && name !== 'README.md')
    .map((name) => `${folder}${name}`);
}

/** Checks an archive whole, and other batch files with its kit. */
export function checkArchive(folder: ArchiveFolder, others: readonly string[] = []): CheckedArchive {
  const brewery = checkBrewery(yaml(textOf(`${folder}brewery.yaml`)));
  const units = brewery.brewery?.units ?? 'metric';
  const setups = checkSetups(yaml(textOf(`${folder}setups.yaml`)), units);
  const problems: Problem[] = [...brewery.problems, ...setups.problems];
  const lists: (readonly Ingredient[])[] = [];
  const table = (path: string, read: 'metric' | 'us') => {
    const checked = checkTable(yaml(textOf(path)), read);
    problems.push(...checked.problems);
    lists.push(checked.rows);
  };
  if (folder === 'content/') table('content/ingredients.yaml', units);
  for (const name of TABLES) table(`shared/${name}.yaml`, 'metric');
  const tables: Tables = tablesOf(...lists);
  const files = [...batchFiles(`${folder}batches/`), ...others].map((file) => {
    const split = splitFrontmatter(textOf(file));
    if (!split.ok) throw new Error(`${file} has no frontmatter`);
    const raw = yaml(split.yaml) as CheckedFile['raw'];
    const slug = file.replace(/^.*\//, '').replace(/\.md$/, '');
    const around = { units, setups: setups.setups, tables };
    return { ...checkBatch(slug, raw, split.notes, around), file, slug, raw };
  });
  return { files, problems };
}
