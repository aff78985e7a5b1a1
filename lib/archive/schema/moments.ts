import type { RecipeMoment } from '../../batch/types/recipe.ts';
import { minute } from '../../units/brands.ts';
import { nearest } from '../../units/parse/nearest.ts';
import { parseQuantity } from '../../units/parse/parse.ts';
import { fault, type Leaf, leaf, quoted, type Read } from './value-fault.ts';

/** When something is added, before `day:` and `for:` beside it are looked at. */
export type AddWord =
  | { readonly at: 'boil'; readonly minutesLeft: ReturnType<typeof minute>; readonly written: string }
  | { readonly at: Exclude<RecipeMoment['at'], 'boil'> };

const WORDS = ['flameout', 'stand', 'dry', 'first wort', 'steep', 'fermenter', 'packaging'] as const;

/** `add:`, minutes left in the boil or one of the fixed words. */
export function addWord(description: string): Leaf<AddWord> {
  return leaf(readAdd, {
    description,
    samples: ['60 min', 'flameout', 'stand', 'dry', 'first wort', 'steep', 'fermenter', 'packaging'],
    type: 'string',
    pattern: `^\\s*(${WORDS.join('|')}|[0-9].*)\\s*$`,
  });
}

export function readAdd(text: string): Read<AddWord> {
  const word = text.trim();
  const at = WORDS.find((known) => known === word);
  if (at !== undefined) return { ok: true, value: { at } };
  if (/^[-+]?[0-9]/.test(word)) {
    const time = parseQuantity(word, 'time', { units: 'metric' });
    if (!time.ok) return time;
    return { ok: true, value: { at: 'boil', minutesLeft: minute(time.value.value), written: word } };
  }
  const near = nearest(word.toLowerCase(), WORDS)[0];
  return fault('not-a-moment', { text: quoted(text), near });
}
