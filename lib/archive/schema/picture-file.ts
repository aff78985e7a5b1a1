import type { Problem } from '../../units/problem.ts';
import { fault, type Leaf, leaf, quoted, type Read } from './value-fault.ts';

/** What can be published, and what a phone may have made instead. */
const EXPECTED = 'a picture as .jpg, .png or .webp';
const MEND =
  'save it as .jpg: open it and export it so, or set the camera of the phone to its most compatible format';

/** The name of a picture, which lies in the folder of its batch: no path leads to another. */
export function pictureFile(description: string): Leaf<string> {
  const read = (text: string): Read<string> => {
    const value = text.trim();
    if (!/^[\p{L}\p{N}_][\p{L}\p{N}\p{M} ._()-]*$/u.test(value) || value.includes('..')) {
      const expected = 'the name alone of a file in the folder of the batch, such as glass.jpg';
      const mend = 'put the file there and write its name without a path';
      return fault('picture-place', quoted(text), expected, mend);
    }
    if (/\.(?:jpe?g|png|webp)$/i.test(value)) return { ok: true, value };
    return fault('picture-format', quoted(text), EXPECTED, MEND);
  };
  return leaf(read, { description, samples: ['glass.jpg'], type: 'string' });
}

/** A picture whose file is not as it should be; `at` is its place in the list, from 0. */
export const unusablePicture = (at: number, found: string, isThere: boolean): Problem => ({
  severity: 'warning',
  code: 'picture-unusable',
  path: ['pictures', at, 'file'],
  found,
  expected: `${EXPECTED} in the folder of the batch`,
  mend: isThere ? MEND : 'put the file there, or take the line out',
});
