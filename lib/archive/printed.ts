/** What was printed is kept, a file for each revision: `<content>/printed/<slug>/<revision>.json`. */
import { existsSync } from 'node:fs';
import { z } from 'zod';
import type { Batch, PrintedPlan } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import { printedFigures } from '../batch/types/plan-schema.ts';
import { fileProblem } from './codes.ts';

import { below, isNames, listBelow, readKept, shownPath } from './safe-read.ts';
import { writeWhole } from './write/write-whole.ts';
import type { LocatedProblem, TextProblem } from './yaml/located.ts';
import { locateText } from './yaml/source.ts';

/** `number` counts the revisions of a batch as they were printed; the rest says where the blanks are. */
const keptSchema = z.looseObject({
  slug: z.string(),
  number: z.number().int().min(1),
  revision: z.string(),
  targets: printedFigures,
});
export type KeptSheets = z.output<typeof keptSchema>;

const FOLDER = 'printed';

/**
 * What was printed for a batch, the last of it first. A file that is not as it was written counts as not there, and is a
 * warning among `problems`.
 */
export function keptSheets(
  contentDir: string,
  slug: string,
  problems: LocatedProblem[] = [],
): readonly KeptSheets[] {
  const folder = below(contentDir, FOLDER, slug);
  // Most batches have none, and finding out where a folder really lies costs ten times as much.
  if (!existsSync(folder)) return [];
  const names = listBelow(folder, contentDir);
  if (names === null || !isNames(names)) return [];
  return names
    .filter((name) => /^[^.].*\.json$/.test(name))
    .flatMap((name) => {
      const path = below(folder, name);
      const kept = keptIn(path, contentDir, { slug, name });
      if (!isProblem(kept)) return [kept];
      problems.push({ ...locateText(shownPath(path), '', kept), severity: 'warning' });
      return [];
    })
    .sort((a, b) => b.number - a.number);
}

const isProblem = (kept: KeptSheets | TextProblem): kept is TextProblem => 'mend' in kept;

function keptIn(
  path: string,
  root: string,
  is: { readonly slug: string; readonly name: string },
): KeptSheets | TextProblem {
  const damaged = (found: string): TextProblem => fileProblem('printed-damaged', 0, { found });
  const read = readKept(path, root);
  if (read.kind === 'absent') return damaged('no such file');
  if (read.kind === 'problem') return read.problem;
  try {
    const { data, error } = keptSchema.safeParse(JSON.parse(read.text));
    const place = error?.issues[0]?.path.join('.');
    if (data === undefined)
      return damaged(`text without what the program writes${place ? ` at ${place}` : ''}`);
    if (data.slug !== is.slug) return damaged(`what was printed for "${data.slug}"`);
    return `${data.revision}.json` === is.name ? data : damaged(`the plan ${data.revision}`);
  } catch {
    return damaged('text that is not JSON, or only part of it');
  }
}

/** The batch with the plan that was used on the day: the one printed last, as nothing is kept once there are readings. */
export function withPrinted(batch: Batch, contentDir: string, problems: LocatedProblem[] = []): Batch {
  const [last] = keptSheets(contentDir, batch.slug, problems);
  if (last === undefined || !hasReadings(batch)) return batch;
  const { revision, targets } = last;
  return { ...batch, printed: { revision, targets } satisfies PrintedPlan };
}

const hasReadings = ({ readings }: Batch): boolean => Object.keys(readings).length > 0;

/**
 * Keeps what a batch was printed with, `sheets` being what `fields.json` says. Nothing is written once the day has readings,
 * for what is printed then was not used on the day, nor where the same is kept already.
 */
export async function keepPrinted(
  contentDir: string,
  { batch, plan }: { readonly batch: Batch; readonly plan: Plan },
  sheets: Readonly<Record<string, unknown>>,
): Promise<void> {
  if (hasReadings(batch)) return;
  const { slug, revision } = plan;
  const before = keptSheets(contentDir, slug);
  const [last] = before;
  const number = last?.revision === revision ? last.number : (last?.number ?? 0) + 1;
  const targets = Object.entries(plan.targets).flatMap(([key, figure]) => {
    if (figure === null) return [];
    const { contributors: _, ...printed } = figure;
    return [[key, printed]];
  });
  const kept = { ...sheets, slug, revision, number, targets: Object.fromEntries(targets) };
  const text = `${JSON.stringify(kept)}\n`;
  const path = below(contentDir, FOLDER, slug, `${revision}.json`);
  const there = readKept(path, contentDir);
  if (there.kind !== 'text' || there.text !== text) await writeWhole(path, text);
}
