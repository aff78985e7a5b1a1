import { type Problem, warningAt } from '../../units/problem.ts';
import { fault, type Leaf, leaf, quoted, type Read } from './value-fault.ts';

/** The name of a picture, which lies in the folder of its batch: no path leads to another. */
export function pictureFile(description: string): Leaf<string> {
  const read = (text: string): Read<string> => {
    const value = text.trim();
    if (!/^[\p{L}\p{N}_][\p{L}\p{N}\p{M} ._()-]*$/u.test(value) || value.includes('..'))
      return fault('picture-place', { text: quoted(text) });
    if (/\.(?:jpe?g|png|webp)$/i.test(value)) return { ok: true, value };
    return fault('picture-format', { text: quoted(text) });
  };
  return leaf(read, { description, samples: ['glass.jpg'], type: 'string' });
}

/** A picture whose file is not as it should be; `at` is its place in the list, from 0. */
export const unusablePicture = (at: number, found: string, isThere: boolean): Problem =>
  warningAt(
    ['pictures', at, 'file'],
    fault('picture-unusable', { found, missing: isThere ? undefined : '' }),
  );
