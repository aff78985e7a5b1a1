import type { Archive } from '../archive/archive.ts';
import { readYaml } from '../archive/yaml/read.ts';
import type { Setup } from '../batch/types/setup.ts';
import { type SiteFault, siteFault } from './check-links.ts';
import { isFar } from './round-altitude.ts';

/** What must not be met on the site: single words, and phrases as they were written. */
export interface Secrets {
  readonly words: ReadonlySet<string>;
  readonly phrases: readonly string[];
}

const WORD = /[\p{L}\p{N}][\p{L}\p{N}'’_-]*/gu;
/** Shorter ones are in any text. */
const SHORTEST_WORD = 5;
const SHORTEST_PHRASE = 12;

const wordsOf = (text: string): string[] =>
  [...text.toLowerCase().matchAll(WORD)].map(([word]) => word).filter((word) => word.length >= SHORTEST_WORD);
const oneLine = (text: string): string => text.replaceAll(/\s+/g, ' ').trim();

function frontmatter(yaml: string): Readonly<Record<string, unknown>> {
  const read = readYaml(yaml);
  const value: unknown = read.ok ? read.value : null;
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Record<string, unknown>)
    : {};
}

/**
 * Words that stand in `private:` of any batch or name a batch that is not published, and nowhere else: neither in what is
 * published nor among the project's own words. Numbers alone are nobody's secret.
 *
 * @param vocabulary words of the project itself and of what the brewer publishes besides batches
 */
export function secretsOf(archive: Archive, vocabulary: string): Secrets {
  const hidden: string[] = [];
  const open: string[] = [vocabulary];
  for (const batch of archive.batches) {
    const source = archive.files.get(batch.slug);
    if (source === undefined) continue;
    const { private: kept, ...rest } = frontmatter(source.yaml);
    if (typeof kept === 'string') hidden.push(...kept.split('\n'));
    if (batch.publish === 'nothing') hidden.push(batch.title, batch.slug);
    else
      open.push(
        batch.slug,
        batch.publish === 'all'
          ? `${JSON.stringify(rest)} ${batch.notes}`
          : `${batch.title} ${batch.style} ${JSON.stringify(rest.recipe)}`,
      );
  }
  const known = open.join(' ').toLowerCase();
  const knownWords = new Set(wordsOf(known));
  const words = hidden.flatMap(wordsOf).filter((word) => !knownWords.has(word) && /\p{L}/u.test(word));
  const phrases = hidden
    .map((line) => oneLine(line).toLowerCase())
    .filter((line) => line.length >= SHORTEST_PHRASE && !known.includes(line));
  return { words: new Set(words), phrases: [...new Set(phrases)] };
}

/** Secrets that stand in a file of the site, each once. */
export function privateWords(file: string, text: string, secrets: Secrets): SiteFault[] {
  if (secrets.words.size === 0 && secrets.phrases.length === 0) return [];
  const plain = oneLine(
    text.toLowerCase().replaceAll('&#39;', "'").replaceAll('&quot;', '"').replaceAll('&amp;', '&'),
  );
  const found = new Set(wordsOf(`${file} ${plain}`).filter((word) => secrets.words.has(word)));
  for (const phrase of secrets.phrases) if (plain.includes(phrase)) found.add(phrase);
  return [...found].map((word) => siteFault(file, 'private-word', { word }));
}

const RECIPE_DATA = /<script type="application\/json" id="recipe-data">([\s\S]*?)<\/script>/;

/** What a recipe's page carries, as far as it is looked at here. */
interface Carried {
  readonly batch: {
    readonly brewed: unknown;
    readonly number: unknown;
    readonly notes: unknown;
    readonly readings: object;
    readonly setup: { readonly altitude_m: Setup['altitude_m'] };
  };
}

/** Figures on the page of a recipe that is published alone which tell of its batch, or of where its author lives. */
export function privateFigures(file: string, html: string, archive: Archive): SiteFault[] {
  const slug = /^recipes\/([^/]+)\/index\.html$/.exec(file)?.[1];
  const batch = archive.batches.find((one) => one.slug === slug);
  const json = RECIPE_DATA.exec(html)?.[1];
  if (batch?.publish !== 'recipe' || json === undefined) return [];
  const { brewed, number, notes, readings, setup } = (JSON.parse(json) as Carried).batch;
  const fault = (figure: string): SiteFault => siteFault(file, 'private-figure', { figure });
  return [
    ...(isFar(setup, archive.brewery.units) ? [] : [fault('the exact altitude of the kitchen')]),
    ...(brewed === null && number === null && notes === '' ? [] : [fault('day, number or notes')]),
    ...(Object.keys(readings).length === 0 ? [] : [fault('readings')]),
  ];
}
