import { isDeepStrictEqual } from 'node:util';
import { isMap, isScalar, type Pair, parseDocument, visit } from 'yaml';
import { splitFrontmatter } from '../../archive/yaml/frontmatter.ts';
import { parseInPlace } from '../../archive/yaml/places.ts';
import { yamlText } from '../../units/yaml-text.ts';

export interface BrewAgain {
  readonly title: string;
  readonly number: number | null;
  readonly brewed: string;
  readonly basedOn: string;
}

/** Keys that the new batch keeps as they were written. */
const KEPT = ['setup', 'kitchen', 'style', 'tags', 'publish', 'recipe'] as const;

/**
 * The file of a batch that is brewed again: its recipe byte for byte, without its readings, its notes and what is
 * private to it. Null where the old file's keys cannot be taken apart without changing their meaning.
 */
export function brewAgainText(old: string, { title, number, brewed, basedOn }: BrewAgain): string | null {
  const split = splitFrontmatter(old);
  if (!split.ok) return null;
  const blocks = topLevelBlocks(split.yaml);
  if (blocks === null) return null;
  const newline = /\r\n/.test(split.yaml) ? '\r\n' : '\n';
  const start = blocks.get('start')?.trim();
  const lines = [
    '---',
    `title: ${yamlText(title)}`,
    ...(number === null ? [] : [`number: ${number}`]),
    `brewed: ${brewed}`,
    ...(start === undefined || start.includes('\n') ? [] : [`# ${start}`]),
    `based_on: ${basedOn}`,
  ];
  const kept = KEPT.map((key) => blocks.get(key) ?? '').map((block) =>
    block === '' || block.endsWith('\n') ? block : `${block}${newline}`,
  );
  const made = `${lines.join(newline)}${newline}${kept.join('')}---${newline}`;
  return sameRecipe(split.yaml, made) ? made : null;
}

/** The bytes of every top-level key up to the next one; comments above a key are its own. */
function topLevelBlocks(yaml: string): Map<string, string> | null {
  const map = parseInPlace(yaml)?.contents;
  if (!isMap(map) || map.flow === true) return null;
  const starts: { readonly key: string; readonly offset: number }[] = [];
  for (const { key } of map.items as Pair[]) {
    if (!isScalar(key) || !key.range) return null;
    starts.push({ key: String(key.value), offset: yaml.lastIndexOf('\n', key.range[0] - 1) + 1 });
  }
  const ends = starts.map(({ offset }, at) =>
    endOfBlock(yaml, offset, starts[at + 1]?.offset ?? yaml.length),
  );
  return new Map(starts.map(({ key, offset }, at) => [key, yaml.slice(offset, ends[at])]));
}

/** A block ends behind its last line that is indented or closes a bracket. */
function endOfBlock(yaml: string, start: number, limit: number): number {
  let end = start;
  let offset = start;
  for (const [index, line] of yaml
    .slice(start, limit)
    .split(/(?<=\n)/)
    .entries()) {
    offset += line.length;
    if (index === 0 || /^[ \t-]+[^\s]|^[}\]]/.test(line)) end = offset;
  }
  return end;
}

function sameRecipe(oldYaml: string, made: string): boolean {
  const split = splitFrontmatter(made);
  if (!split.ok) return false;
  const old = recipeOf(oldYaml);
  return old !== null && isDeepStrictEqual(old, recipeOf(split.yaml));
}

/** The recipe as plain data; null where there is none, or where it needs what is elsewhere in the file. */
function recipeOf(yaml: string): unknown {
  const document = parseDocument(yaml, { schema: 'failsafe', logLevel: 'silent' });
  const recipe: unknown = document.get('recipe', true);
  if (document.errors.length > 0 || !isMap(recipe)) return null;
  let aliases = 0;
  visit(recipe, { Alias: () => void aliases++ });
  return aliases > 0 ? null : recipe.toJSON();
}
