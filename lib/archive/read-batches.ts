import { basename } from 'node:path';
import type { Batch } from '../batch/types/batch.ts';
import type { BatchSource } from './archive.ts';
import { fileProblem } from './codes.ts';
import { createReadMemory, type ReadMemory } from './read-memory.ts';
import { below, isNames, listBelow, readKept, shownPath } from './safe-read.ts';
import { checkBatch, type Surroundings } from './schema/check-batch.ts';
import { readSlug } from './schema/scalars.ts';
import { shapeOf } from './schema/value-fault.ts';
import { takenFrom } from './write/sibling-path.ts';
import { splitFrontmatter } from './yaml/frontmatter.ts';
import type { LocatedProblem, TextProblem } from './yaml/located.ts';
import { readYamlWithProblems } from './yaml/problems.ts';
import { locateProblems, locateText, type Source } from './yaml/source.ts';

/** What was made of a batch file. */
export interface BatchMade {
  readonly slug: string;
  readonly problems: readonly LocatedProblem[];
  readonly batch: Batch | null;
  /** Where in its text the YAML begins and ends; null where it could not be read. */
  readonly yaml: readonly [start: number, end: number] | null;
  readonly basedOn: string | null;
}

export interface BatchRead extends BatchMade {
  readonly source: BatchSource | null;
}

/** What is kept of batch files from one reading to the next: not their text, which is read each time. */
export type ArchiveMemory = ReadMemory<BatchMade>;
export const createArchiveMemory: typeof createReadMemory<BatchMade> = createReadMemory;

const isBatchFile = (name: string): boolean => /\.md$/i.test(name) && !name.startsWith('.');

/** Reads all batch files of a content folder; what is wrong with the folder itself goes to `problems`. */
export function readBatches(
  content: string,
  around: Surroundings,
  problems: LocatedProblem[],
  memory: ArchiveMemory,
): readonly BatchRead[] {
  const folder = below(content, 'batches');
  const names = listBelow(folder, content);
  if (names === null) return [];
  if (!isNames(names)) {
    problems.push(locateText(shownPath(folder), '', names));
    return [];
  }
  const files = new Set(names.map((name) => takenFrom(name) ?? name).filter(isBatchFile));
  const paths = [...files].sort().map((name) => below(folder, name));
  memory.keepOnly(new Set(paths));
  return paths.map((path) => readBatch(path, content, around, memory));
}

const slugOf = (path: string): string => basename(path).replace(/\.md$/i, '');

const notMade = (path: string, problems: readonly LocatedProblem[]): BatchMade => ({
  slug: slugOf(path),
  problems,
  batch: null,
  yaml: null,
  basedOn: null,
});

function readBatch(path: string, content: string, around: Surroundings, memory: ArchiveMemory): BatchRead {
  const read = readKept(path, content);
  if (read.kind === 'text') {
    const made = memory.file(path, read.bytes, () => readBatchFile(path, read.text, around));
    const { hash } = memory.files.get(path)!;
    const about = { slug: made.slug, path, hash };
    return { ...made, source: made.yaml && { ...sourceOf(path, read.text, made.yaml), ...about } };
  }
  const problems = nameProblems(path);
  if (read.kind === 'problem') problems.push(locateText(shownPath(path), '', read.problem));
  return { ...notMade(path, problems), source: null };
}

const slugRead = (path: string) => readSlug(path.endsWith('.md') ? slugOf(path) : basename(path));

function nameProblems(path: string): LocatedProblem[] {
  const named = slugRead(path);
  if (named.ok) return [];
  const { code, found, expected, sample } = named;
  // The name is the file's, not one in it.
  const mend = sample === undefined ? 'choose another name for the file' : `rename the file to ${sample}.md`;
  const problem = { code, path: [], offset: 0, found, expected, mend };
  return [locateText(shownPath(path), '', problem)];
}

const sourceOf = (path: string, text: string, [start, end]: readonly [number, number]): Source => ({
  file: shownPath(path),
  text,
  yaml: text.slice(start, end),
  start,
});

/** A file that could be opened: it depends on nothing but its name, its bytes and what is around it. */
function readBatchFile(path: string, text: string, around: Surroundings): BatchMade {
  const file = shownPath(path);
  const slug = slugOf(path);
  const problems = nameProblems(path);
  const failed = notMade(path, problems);
  const split = splitFrontmatter(text);
  if (!split.ok) {
    problems.push(locateText(file, text, split.problem));
    return failed;
  }
  const yaml = readYamlWithProblems(split.yaml);
  for (const problem of yaml.problems) problems.push(locateText(file, text, problem, split.start));
  if (yaml.value === undefined) return failed;
  const raw = yaml.value ?? {};
  if (typeof raw !== 'object' || Array.isArray(raw)) {
    problems.push(locateText(file, text, notKeys(raw, split.start + leadingSpace(split.yaml))));
    return failed;
  }
  const within = [split.start, split.start + split.yaml.length] as const;
  const checked = checkBatch(slug, raw as Record<string, unknown>, split.notes, around);
  problems.push(...locateProblems(sourceOf(path, text, within), checked.problems));
  const sound = slugRead(path).ok && yaml.problems.length === 0;
  const batch = sound ? checked.batch : null;
  return { slug, problems, batch, yaml: within, basedOn: checked.batch?.basedOn ?? null };
}

const leadingSpace = (text: string): number => text.length - text.trimStart().length;

function notKeys(raw: unknown, offset: number): TextProblem {
  const joined = typeof raw === 'string' && /^[A-Za-z_]+:\S/.test(raw);
  return joined
    ? fileProblem('yaml-no-space', offset, { line: shapeOf(raw) })
    : fileProblem('yaml-not-keys', offset, { found: shapeOf(raw) });
}
