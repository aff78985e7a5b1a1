import {
  ALPHA_LIMITS,
  type Changes,
  FIGURE_NAMES,
  FIGURES,
  type FigureName,
  oneOf,
  settled,
  stated,
} from './changes.ts';

/** Version of what comes after the `#`; a later one may mean other things by the same letters. */
const VERSION = '1';
/** Longer addresses are cut off by some mail programs. */
export const LONGEST_LINK = 2000;

const NUMBER = /^-?\d{1,5}(?:\.\d{1,4})?$/;

/** The changes as the end of a link, `fit=1&v=12&k=10`; empty where there are none. */
export function toFragment(changes: Changes): string {
  const parts: string[] = [];
  for (const name of FIGURE_NAMES) {
    const value = changes[name];
    if (value !== undefined) parts.push(`${FIGURES[name].letter}=${settled(value)}`);
  }
  const alphas = Object.entries(changes.alphas ?? {});
  if (alphas.length > 0) {
    const list = new Array<string>(Math.max(...alphas.map(([index]) => Number(index))) + 1).fill('');
    for (const [index, alpha] of alphas) list[Number(index)] = String(settled(alpha * 100));
    parts.push(`a=${list.join(',')}`);
  }
  if (changes.extract) parts.push(`x=${changes.extract}`);
  if (changes.units) parts.push(`u=${changes.units}`);
  if (changes.paper) parts.push(`p=${changes.paper}`);
  return parts.length === 0 ? '' : `fit=${VERSION}&${parts.join('&')}`;
}

export interface ReadFragment {
  readonly changes: Changes;
  /** What the link asks for and cannot have, in words; empty where all is well. */
  readonly faults: readonly string[];
}

function numberIn(text: string, limits: { readonly low: number; readonly high: number }): number | null {
  if (!NUMBER.test(text)) return null;
  const value = Number(text);
  return value >= limits.low && value <= limits.high ? value : null;
}

/**
 * Reads the end of a link. Anything in it that is no figure of a kitchen is left out and named, never guessed at; a link of
 * another version changes nothing.
 *
 * @param packetCount how many packets of hops the recipe has
 */
export function fromFragment(hash: string, packetCount: number): ReadFragment {
  const text = hash.replace(/^#/, '');
  if (!text.startsWith('fit=')) return { changes: {}, faults: [] };
  if (text.length > LONGEST_LINK) return { changes: {}, faults: ['the link is too long'] };
  const given = new URLSearchParams(text);
  if (given.get('fit') !== VERSION)
    return { changes: {}, faults: ['the link was made by another version of this page'] };
  const faults: string[] = [];
  const figures: Partial<Record<FigureName, number>> = {};
  for (const name of FIGURE_NAMES) {
    const { letter, word, ...limits } = FIGURES[name];
    const asked = given.get(letter);
    if (asked === null) continue;
    const value = numberIn(asked, limits);
    if (value === null) faults.push(`its ${word} is not possible in a kitchen`);
    else figures[name] = value;
  }
  const { alphas, wrong } = alphasOf(given.get('a'), packetCount);
  if (wrong) faults.push('its alpha acids do not fit the hops of this recipe');
  const extract = oneOf(given.get('x'), ['liquid', 'dry']);
  const units = oneOf(given.get('u'), ['metric', 'us']);
  const paper = oneOf(given.get('p'), ['a4', 'letter']);
  return {
    changes: stated({ ...figures, alphas, extract, units, paper }),
    faults,
  };
}

function alphasOf(
  text: string | null,
  packetCount: number,
): { readonly alphas: Record<number, number>; readonly wrong: boolean } {
  const alphas: Record<number, number> = {};
  if (text === null) return { alphas, wrong: false };
  const list = text.split(',');
  if (list.length > packetCount) return { alphas, wrong: true };
  let wrong = false;
  list.forEach((one, index) => {
    if (one === '') return;
    const percent = numberIn(one, { low: ALPHA_LIMITS.low * 100, high: ALPHA_LIMITS.high * 100 });
    if (percent === null) wrong = true;
    else alphas[index] = percent / 100;
  });
  return { alphas, wrong };
}
