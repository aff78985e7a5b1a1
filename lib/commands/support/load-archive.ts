import { visible } from '../../archive/problem-text.ts';
import { createSiteMemory, type LoadedSite, loadSite } from '../../site/archive.ts';
import { commandLine } from '../../site/command-line.ts';
import { ofEntry, type SiteEntry } from '../../site/site.ts';
import { dayOf } from '../../site/today.ts';
import { breaking } from '../../units/format/format.ts';
import { isOfBottles, judgmentLine } from '../../words/judgments.ts';
import type { Arguments } from './arguments.ts';
import { printProblems, summary } from './report.ts';
import { UsageError } from './usage-error.ts';

/** Without these there is nothing to build from, and nothing says what may be taken away. */
const STOPPING = new Set(['content-missing', 'tables-missing', 'link-outside', 'newer-format']);

/** The day that plans are looked at on. */
export function todayOf(args: Arguments): string {
  const asked = args.text('as-of');
  if (asked !== undefined && !(/^\d{4}-\d\d-\d\d$/.test(asked) && !Number.isNaN(Date.parse(asked))))
    throw new UsageError(`--as-of is "${asked}"; it is a day, as 2026-02-14.`);
  return dayOf(asked);
}

/** Reads and plans the content folder; null, with everything reported, where nothing can be built from it. */
export async function loadArchive(args: Arguments, memory = createSiteMemory()): Promise<LoadedSite | null> {
  const today = todayOf(args);
  const site = await loadSite(args.text('content') ?? '', { today, memory });
  console.log(`As of ${today}.`);
  const none = site.content.entries.length === 0 && site.failed.length > 0;
  const stopped = site.problems.some(({ code, file }) => STOPPING.has(code) && !file.endsWith('.md'));
  if (!none && !stopped) return site;
  printProblems(site.problems);
  console.log(summary(site));
  console.log('Nothing could be built; what was built before is unchanged.');
  return null;
}

/** Warnings that are printed on every build, because somebody may get hurt, or something is left out. */
const LOUD = new Set(['bottle-too-weak', 'picture-unusable']);

/** What is said of bottles that may burst. */
export function tellDanger({ content: { brewery, entries } }: LoadedSite): void {
  const dangers = ({ batch, plan }: SiteEntry): string[] =>
    plan.judgments
      .filter((one) => one.level === 'act' && isOfBottles(one))
      .map((judgment) => {
        const words = breaking(judgmentLine(judgment, brewery));
        return `${batch.slug}  readings.${judgment.key}\n  ${words}\n`;
      });
  for (const entry of entries) for (const words of ofEntry(entry, 'dangers', dangers)) console.log(words);
}

/**
 * Prints what is wrong, what may hurt somebody, and how many batches were left out; true where a file has an error.
 *
 * Other doubts are counted: repeated on every build, they would no longer be read.
 */
export function tellProblems(site: LoadedSite): boolean {
  const shown = site.problems.filter(({ severity, code }) => severity === 'error' || LOUD.has(code));
  printProblems(shown);
  tellDanger(site);
  console.log(summary(site));
  if (shown.length < site.problems.length) {
    console.log(`${commandLine('check')} prints the other warnings; they are on the pages and sheets too.`);
  }
  if (site.failed.length > 0) console.log(`Left out because of errors: ${visible(site.failed.join(', '))}`);
  return site.problems.some(({ severity }) => severity === 'error');
}
