import { join } from 'node:path';
import { type OpenBatch, openBatch, readBatchText, surroundingsOf } from '../../archive/open-batch.ts';
import { readArchive } from '../../archive/read-archive.ts';
import { type ArchiveMemory, createArchiveMemory } from '../../archive/read-batches.ts';
import type { Surroundings } from '../../archive/schema/check-batch.ts';
import { editReadings } from '../../archive/write/edit-readings.ts';
import { type Written, writeReadings } from '../../archive/write/write-readings.ts';
import { createLearner, type Learner } from '../../batch/learning/archive.ts';
import { batchToPlan } from '../../batch/learning/use.ts';
import type { Batch } from '../../batch/types/batch.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import type { Plan } from '../../batch/types/plan.ts';
import { changesOf } from '../../key-in/changes.ts';
import type { DoubtContext } from '../../key-in/corrected.ts';
import { type Answers, type Blank, blanksOf, type Raw } from '../../key-in/key-in.ts';
import { ROOT } from '../paths.ts';
import { planAnew } from '../plan-memo.ts';
import { type Printed, readPrinted } from './printed.ts';

/** What is the same for every batch of a content folder. */
export interface Kit {
  readonly contentDir: string;
  readonly brewery: Brewery;
  readonly around: Surroundings;
  /** What the other batches say of the kit: the form plans as the site does. */
  readonly learner: Learner;
  /** Where sheets are printed to, each batch in a folder of its own. */
  readonly printedTo: readonly string[];
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
  const archive = await readArchive(contentDir, { tablesDir: join(ROOT, 'shared'), memory });
  const learner = createLearner(archive.batches);
  return { contentDir, brewery: archive.brewery, around: surroundingsOf(archive), learner, printedTo };
}

/** Opens a batch as its file is now. */
export function beginSession(kit: Kit, slug: string): Begun {
  const opened = openBatch(kit.contentDir, slug);
  if (!opened.ok) return { ok: false, missing: true, why: opened.why };
  return sessionOf(kit, opened.file, opened.file.text);
}

function sessionOf(kit: Kit, file: OpenBatch, text: string): Begun {
  const read = readBatchText(file.slug, text, kit.around);
  const learned = read?.batch ? batchToPlan(read.batch, kit.learner) : null;
  const entry = learned ? planAnew(learned.batch, learned.used, kit.brewery, null).entry : null;
  if (read === null || read.batch === null || entry === null) {
    const why = 'The file of this batch has errors that have to be mended first: npm run check says which.';
    return { ok: false, missing: false, why };
  }
  const { batch, raw } = read;
  const blanks = blanksOf(batch, raw, kit.brewery.units);
  const printed = readPrinted(kit.printedTo, file.slug, blanks);
  const session = { ...kit, slug: file.slug, file, raw, batch, plan: entry.plan, blanks, printed };
  return { ok: true, session };
}

/** The batch as it would be with these answers in its file; null where they cannot be written. */
export function preview(session: Session, answers: Answers): Session | null {
  const edited = editReadings(session.file.text, changesOf(session.raw, session.blanks, answers));
  if (!edited.ok) return null;
  const begun = sessionOf(session, session.file, edited.text);
  return begun.ok ? begun.session : null;
}

/** Writes answers into the file that a session has opened; refused where it has changed since. */
export function saveAnswers(session: Session, answers: Answers, hash: string): Promise<Written> {
  const { contentDir, around, file, brewery } = session;
  return writeReadings({
    contentDir,
    slug: file.slug,
    around,
    hash,
    changes: (now) => {
      if (now.batch === null) return [];
      return changesOf(now.raw, blanksOf(now.batch, now.raw, brewery.units, rowsIn(answers)), answers);
    },
  });
}

/** One more than the last row of the log that there is an answer for. */
const rowsIn = (answers: Answers): number =>
  Math.max(0, ...[...answers.keys()].map((key) => Number(/^fermentation\[(\d+)\]/.exec(key)?.[1] ?? -1) + 1));

/** What it takes to tell an unlikely answer of this batch. */
export function doubtContext({ batch, plan, brewery }: Opened, today: string | null): DoubtContext {
  return { batch, targets: plan.targets, units: brewery.units, today };
}

/** Today's date in the kitchen, `2026-02-14`. */
export function kitchenDay(now = new Date()): string {
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The clock in the kitchen, `17:20`. */
export function kitchenClock(now = new Date()): string {
  return `${String(now.getHours()).padStart(2, '0')}:${String(now.getMinutes()).padStart(2, '0')}`;
}
