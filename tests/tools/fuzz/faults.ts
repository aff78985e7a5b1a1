import { published } from '../../../lib/site/plan-json.ts';
/** What must never happen to a file, however ill it is, and how it is found out. */

import type { Archive } from '../../../lib/archive/archive.ts';
import { FILE_PROBLEMS } from '../../../lib/archive/codes.ts';
import { formatProblem } from '../../../lib/archive/problem-text.ts';
import { SCHEMA_PROBLEMS } from '../../../lib/archive/schema/codes.ts';
import { inOrder, type LocatedProblem } from '../../../lib/archive/yaml/located.ts';
import { locateProblem } from '../../../lib/archive/yaml/source.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { planSchema } from '../../../lib/batch/types/plan-schema.ts';
import { BATCH_PROBLEMS } from '../../../lib/batch/types/problem.ts';
import { createPages } from '../../../lib/site/pages.ts';
import { SHEET_FILES } from '../../../lib/site/paths.ts';
import type { SiteEntry } from '../../../lib/site/site.ts';
import { UNIT_PROBLEMS } from '../../../lib/units/codes.ts';

const CODES = new Set<string>(
  [BATCH_PROBLEMS, FILE_PROBLEMS, SCHEMA_PROBLEMS, UNIT_PROBLEMS].flatMap((codes) => Object.keys(codes)),
);
/** Longer than this, of the processor's time, is a hang. */
export const LIMIT_MS = 2000;

export interface Fault {
  readonly slug: string;
  readonly what: string;
}

/** Milliseconds of the processor that some work takes: others who are at work do not count. */
export function timed<T>(work: () => T): { readonly value: T; readonly time_ms: number } {
  const start = process.cpuUsage();
  const value = work();
  const { user, system } = process.cpuUsage(start);
  return { value, time_ms: (user + system) / 1000 };
}

/** What was thrown and from where, in short. */
export const said = (thrown: unknown): string =>
  thrown instanceof Error
    ? (thrown.stack ?? thrown.message).split('\n').slice(0, 4).join(' ')
    : String(thrown);

export interface Planned {
  readonly entries: readonly SiteEntry[];
  readonly problems: readonly LocatedProblem[];
  readonly faults: readonly Fault[];
}

/** Plans every batch of an archive, each by the clock. */
export function planAll(archive: Archive): Planned {
  const entries: SiteEntry[] = [];
  const problems: LocatedProblem[] = [...archive.problems];
  const faults: Fault[] = [];
  for (const batch of archive.batches) {
    const source = archive.files.get(batch.slug);
    try {
      const { value: result, time_ms } = timed(() => planBatch(batch, archive.brewery));
      if (time_ms > LIMIT_MS) faults.push({ slug: batch.slug, what: `planning took ${time_ms} ms` });
      const found = result.ok ? result.warnings : result.problems;
      if (source !== undefined) problems.push(...found.map((one) => locateProblem(source, one)));
      if (result.ok) entries.push({ batch, plan: result.plan });
      else if (found.every(({ severity }) => severity !== 'error'))
        faults.push({ slug: batch.slug, what: 'no plan, and no error that says why' });
    } catch (thrown) {
      faults.push({ slug: batch.slug, what: `planning threw ${said(thrown)}` });
    }
  }
  return { entries, problems: problems.sort(inOrder), faults };
}

/** What is wrong with a problem itself: it must say where, what and how to mend it, in words fit for a terminal. */
export function faultOfProblem(problem: LocatedProblem, lines: readonly string[] | null): string | null {
  const { code, line, column, found, expected, mend } = problem;
  if (!CODES.has(code)) return `the code ${code} is not listed`;
  if (!Number.isInteger(line) || !Number.isInteger(column) || line < 1 || column < 1)
    return `no place: ${line}:${column}`;
  if (lines !== null && line > lines.length) return `line ${line} of ${lines.length}`;
  if (lines !== null && column > (lines[line - 1] ?? '').length + 1)
    return `column ${column} of line ${line}`;
  if ([found, expected, mend].some((text) => text.trim() === '')) return `${code} does not say all`;
  const text = formatProblem(problem);
  // What stands in quotes is the brewer's own.
  if (NOT_A_FIGURE.test(found.replace(/"[^"]*"/g, '')) || text.includes('[object '))
    return `${code} says ${JSON.stringify(text)}`;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  if (/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/.test(text))
    return `${code} prints signs that a terminal obeys: ${JSON.stringify(text)}`;
  return null;
}

/** Figures that are none, and figures as no brewer reads them. */
const NOT_A_FIGURE = /\b(?:NaN|Infinity|undefined)\b|\[object |(?<![\w.#])\d(?:\.\d+)?e[+-]?\d+\b/;

const wordsOf = (html: string): string =>
  html
    .replace(/<(script|style)\b.*?<\/\1>/gs, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');

/** Renders a batch's pages and sheets and looks for figures that are none; `own` is what the brewer wrote. */
export function faultsOnPages(entry: SiteEntry, archive: Archive, own: string): string[] {
  const faults: string[] = [];
  const checked = planSchema.safeParse(published(entry.plan, { units: 'metric', language: 'en' }));
  if (!checked.success) faults.push(`plan.json: ${JSON.stringify(checked.error.issues.slice(0, 2))}`);
  const shown: SiteEntry = { ...entry, batch: { ...entry.batch, publish: 'all' } };
  const { slug } = shown.batch;
  try {
    const pages = createPages({ brewery: archive.brewery, entries: [shown] });
    const made = [
      pages.file('index.html'),
      pages.file(`batches/${slug}/index.html`),
      pages.file(`recipes/${slug}/index.html`),
    ];
    for (const file of SHEET_FILES) made.push(pages.file(`batches/${slug}/${file}.html`));
    for (const html of made) {
      const found = NOT_A_FIGURE.exec(wordsOf(html));
      if (found !== null && !own.includes(found[0]))
        faults.push(`a page says ${wordsOf(html).slice(Math.max(0, found.index - 60), found.index + 60)}`);
    }
    for (const drawn of made[1]?.match(/<svg.*?<\/svg>/gs) ?? [])
      if (NOT_A_FIGURE.test(drawn)) faults.push('a chart has a coordinate that is none');
  } catch (thrown) {
    faults.push(`rendering threw ${said(thrown)}`);
  }
  return faults;
}
