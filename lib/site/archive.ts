import type { Archive, BatchSource } from '../archive/archive.ts';
import { readArchive } from '../archive/read-archive.ts';
import { type ArchiveMemory, createArchiveMemory } from '../archive/read-batches.ts';
import { withPlainTimes } from '../archive/schema/plain-times.ts';
import { inOrder, type LocatedProblem } from '../archive/yaml/located.ts';
import { readYaml } from '../archive/yaml/read.ts';
import { locateProblems } from '../archive/yaml/source.ts';
import { createLearner } from '../batch/learning/archive.ts';
import { batchToPlan } from '../batch/learning/use.ts';
import { groupAt, type Raw } from '../key-in/key-in.ts';
import { hasTwelveHours } from '../units/parse/clock.ts';
import { isGroup } from '../units/parse/with-value.ts';
import type { Problem } from '../units/problem.ts';
import { TABLES } from './paths.ts';
import { readPhotographs } from './pictures.ts';
import { createPlanMemory, learnedFrom, type PlanMemory, tellsOf } from './plan-memo.ts';
import type { SiteContent, SiteEntry } from './site.ts';

/** An archive that has been read and planned, each batch once. */
export interface LoadedSite {
  readonly archive: Archive;
  readonly content: SiteContent;
  /** Errors and warnings of reading and of planning, by file and line. */
  readonly problems: readonly LocatedProblem[];
  /** Slugs of batches that were left out because of an error. */
  readonly failed: readonly string[];
}

/** Where the problems of a plan stand in the text of its file. */
export interface Located {
  /** Of the file. */
  readonly hash: string;
  readonly problems: readonly LocatedProblem[];
}

/** By the list that planning gave: a plan that is kept keeps it. */
export const located = new WeakMap<readonly Problem[], Located>();

/** Problems with their places; looked up again only where the file has changed. */
function locatedIn(source: BatchSource, found: readonly Problem[]): readonly LocatedProblem[] {
  const before = located.get(found);
  if (before?.hash === source.hash) return before.problems;
  const problems = locateProblems(source, found);
  located.set(found, { hash: source.hash, problems });
  return problems;
}

/** Plans every batch of an archive that has been read; a batch that cannot be planned is left out and named. */
export function planArchive(archive: Archive, memory: PlanMemory, today: string | null): LoadedSite {
  const entries: SiteEntry[] = [];
  const problems: LocatedProblem[] = [...archive.problems];
  const failed = [...archive.failed];
  const batches = archive.batches.map((batch) => memory.same(batch));
  memory.keepOnly(new Set(batches.map(({ slug }) => slug)));
  const learner = createLearner(batches, tellsOf);
  const from = learnedFrom(batches);
  for (const batch of batches) {
    const source = archive.files.get(batch.slug);
    const { entry, found } = memory.plan({
      batch,
      learnedFrom: from(batch),
      learn: () => batchToPlan(batch, learner),
      brewery: archive.brewery,
      today,
    });
    if (source !== undefined) problems.push(...locatedIn(source, found));
    if (entry === null) failed.push(batch.slug);
    else entries.push(entry);
  }
  return {
    archive,
    content: {
      brewery: archive.brewery,
      entries,
      extracts: archive.tables.rows.filter((row) => row.kind === 'extract'),
      asRead: batches,
      today,
      rawOf: (slug) => readingsAsWritten(archive.files.get(slug)?.yaml ?? '', archive.brewery.language),
    },
    problems: problems.sort(inOrder),
    failed,
  };
}

/** Only the readings: what else is in a file may be for nobody's eyes. */
function readingsAsWritten(yaml: string, language: string): Raw {
  const read = readYaml(yaml);
  return read.ok && isGroup(read.value)
    ? { readings: groupAt(withPlainTimes(read.value, hasTwelveHours(language)), 'readings') }
    : {};
}

/** What looking on keeps from one round to the next, so that only what changed is read and planned again. */
export interface SiteMemory {
  readonly reads: ArchiveMemory;
  readonly plans: PlanMemory;
}

export const createSiteMemory = (
  { files, tables }: Partial<Pick<ArchiveMemory, 'files' | 'tables'>> = {},
  known?: PlanMemory['known'],
): SiteMemory => ({
  reads: createArchiveMemory(files, tables),
  plans: createPlanMemory(known),
});

/** Reads a content folder and plans every batch in it; nothing throws for what a brewer wrote. */
export async function loadSite(
  contentDir: string,
  options: {
    readonly tablesDir?: string;
    readonly memory?: SiteMemory;
    /** The day that plans are looked at on; none where it is left out. */
    readonly today?: string;
  } = {},
): Promise<LoadedSite> {
  const { tablesDir = TABLES, memory = createSiteMemory(), today = null } = options;
  const archive = await readArchive(contentDir, { tablesDir, memory: memory.reads });
  const site = planArchive(archive, memory.plans, today);
  const { photographs, problems } = await readPhotographs(archive, contentDir);
  return {
    ...site,
    content: { ...site.content, photographs },
    problems: [...site.problems, ...problems].sort(inOrder),
  };
}
