import {
  type OpenBatch,
  openBatch,
  type ReadBatch,
  readBatchText,
  surroundingsOf,
} from '../../archive/open-batch.ts';
import { withPrinted } from '../../archive/printed.ts';
import { readArchive } from '../../archive/read-archive.ts';
import { type ArchiveMemory, createArchiveMemory } from '../../archive/read-batches.ts';
import type { Surroundings } from '../../archive/schema/check-batch.ts';
import { writeReadings } from '../../archive/write/write-readings.ts';
import { createLearner, type Learner } from '../../batch/learning/archive.ts';
import { batchToPlan } from '../../batch/learning/use.ts';
import type { Batch } from '../../batch/types/batch.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import { type Plan, printedTargets } from '../../batch/types/plan.ts';
import { changesOf } from '../../key-in/changes.ts';
import { checkTyped } from '../../key-in/check.ts';
import type { DoubtContext } from '../../key-in/corrected.ts';
import { dateContextOf } from '../../key-in/dates.ts';
import { type KeyedFile, lostFrom, mergeKeyed, rowsNeeded, saidBefore } from '../../key-in/file.ts';
import { type Answers, type Blank, blanksOf, type Raw } from '../../key-in/key-in.ts';
import { faultText } from '../../key-in/words.ts';
import { type Problem, pathText } from '../../units/problem.ts';
import { commandLine } from '../command-line.ts';
import { TABLES } from '../paths.ts';
import { planAnew, tellsOf } from '../plan-memo.ts';
import { type PaperPlaces, type Printed, readPrinted } from './printed.ts';

/** What is the same for every batch of a content folder. */
export interface Kit extends PaperPlaces {
  readonly brewery: Brewery;
  readonly around: Surroundings;
  /** What the other batches say of the kit: the form plans as the site does. */
  readonly learner: Learner;
}

/** A batch with its blanks: all that a form shows of it. */
export interface Opened {
  readonly slug: string;
  readonly brewery: Brewery;
  readonly raw: Raw;
  readonly batch: Batch;
  readonly plan: Plan;
  readonly blanks: readonly Blank[];
  /** What is known of its paper; null where none was printed from here. */
  readonly printed: Printed | null;
}

/** One batch, opened for keying in from a file that can be written to. */
export interface Session extends Kit, Opened {
  readonly file: OpenBatch;
}

export type Begun =
  | { readonly ok: true; readonly session: Session }
  /** `missing`: there is no such batch; else it is there and has errors. */
  | { readonly ok: false; readonly missing: boolean; readonly why: string };

/** Reads what batches lean on: units, setups, ingredients, and what the batches say of the kit. */
export async function readKit(
  contentDir: string,
  printedTo: readonly string[] = [],
  memory: ArchiveMemory = createArchiveMemory(),
): Promise<Kit> {
  const archive = await readArchive(contentDir, { tablesDir: TABLES, memory });
  const learner = createLearner(archive.batches, tellsOf);
  return { contentDir, brewery: archive.brewery, around: surroundingsOf(archive), learner, printedTo };
}

/** Opens a batch as its file is now. */
export function beginSession(kit: Kit, slug: string, open = openBatch): Begun {
  const found = open(kit.contentDir, slug);
  if (!found.ok) return { ok: false, missing: true, why: found.why };
  const { file } = found;
  const read = readBatchText(slug, file.text, kit.around);
  const learned = read?.batch ? batchToPlan(withPrinted(read.batch, kit.contentDir), kit.learner) : null;
  const entry = learned ? planAnew(learned, kit.brewery, null).entry : null;
  if (read === null || read.batch === null || entry === null) {
    const why = `The file of this batch has errors that have to be mended first: ${commandLine('check')} says which.`;
    return { ok: false, missing: false, why };
  }
  const { batch, raw } = read;
  return { ok: true, session: { ...kit, ...openedOf(kit.brewery, batch, raw, entry.plan, kit), file } };
}

/** @param places that list the paper of batches; without them no pages are named */
export function openedOf(
  brewery: Brewery,
  batch: Batch,
  raw: Raw,
  plan: Plan,
  places: PaperPlaces | null,
): Opened {
  const { slug } = batch;
  const blanks = blanksOf(batch, raw, brewery.units, undefined, printedTargets(plan));
  const printed = places && readPrinted(places, slug, blanks);
  return { slug, brewery, raw, batch, plan, blanks, printed };
}

export type SavedKeyed =
  | { readonly kind: 'saved'; readonly before: Opened; readonly answers: Answers; readonly after: Session }
  /** The file says other things by now than when they were keyed in, or something else has written over what was just saved. */
  | { readonly kind: 'clash' }
  | { readonly kind: 'refused'; readonly why: readonly string[] };

/**
 * Writes what was keyed in on a form into the file as it is by then, all or nothing: new rows go below those that have come
 * in, and what the file says differently by now is never written over. Last of all `look` is taken at the file: an editor that
 * saves an older text right behind takes out again what was saved.
 */
export async function saveKeyed(session: Session, keyed: KeyedFile, look = openBatch): Promise<SavedKeyed> {
  const { contentDir, around, file, brewery } = session;
  let before: Opened = session;
  let answers: Answers = new Map();
  let outcome: SavedKeyed | null = null;
  const changes = (now: ReadBatch) => {
    if (now.batch === null) return [];
    const blanks = blanksOf(now.batch, now.raw, brewery.units, rowsNeeded(keyed, now.raw));
    const { given, collisions, unknown } = mergeKeyed(keyed, blanks, now.raw);
    // What was keyed in says its times as the file does.
    const ctx = { ...dateContextOf(now.batch, brewery), twelveHours: false };
    const checked = checkTyped(blanks, { lines: new Map(given) }, ctx);
    before = { ...session, batch: now.batch, raw: now.raw, blanks };
    answers = checked.answers;
    if (collisions.length + unknown.length > 0) outcome = { kind: 'clash' };
    else if (checked.faults.length > 0) {
      const why = checked.faults.map((fault) => `${fault.key}: ${faultText(fault)}`);
      outcome = { kind: 'refused', why };
    }
    return outcome === null ? changesOf(now.raw, blanks, answers) : [];
  };
  const { slug } = file;
  const written = await writeReadings({ contentDir, slug, around, hash: null, changes });
  if (outcome !== null) return outcome;
  switch (written.kind) {
    case 'written':
    case 'unchanged': {
      const after = beginSession(session, slug, look);
      if (!after.ok) return { kind: 'clash' };
      const lost = lostFrom(after.session.blanks, saidBefore(before.blanks, answers));
      return lost.length > 0 ? { kind: 'clash' } : { kind: 'saved', before, answers, after: after.session };
    }
    case 'changed since':
      return { kind: 'clash' };
    case 'problems':
      return { kind: 'refused', why: written.problems.map(problemLine) };
    case 'refused':
      return { kind: 'refused', why: [written.why] };
  }
}

/** A reading that the file cannot hold, on one line. */
const problemLine = ({ path, found, expected, mend }: Problem): string =>
  `${pathText(path)}: ${found}; expected ${expected}; ${mend}.`;

/** What it takes to see that an answer is unlikely for this batch. */
export function doubtContext({ batch, plan, brewery }: Opened, today: string | null): DoubtContext {
  const { units, language } = brewery;
  return { batch, targets: printedTargets(plan), units, language, today };
}
