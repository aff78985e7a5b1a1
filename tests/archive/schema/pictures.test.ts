import { expect, it } from 'vitest';
import { formatProblem } from '../../../lib/archive/problem-text.ts';
import { unusablePicture } from '../../../lib/archive/schema/picture-file.ts';
import { locateProblem } from '../../../lib/archive/yaml/source.ts';

it('a picture that cannot be used is told of at its line', () => {
  const text = 'title: X\npictures:\n  - { file: glass.jpg, alt: in the evening sun }\n';
  const source = { file: 'x.md', text, yaml: text, start: 0 };
  const said = (found: string) => formatProblem(locateProblem(source, unusablePicture(0, found, false)));
  expect(said('no file "glass.jpg" in the folder of the batch')).toBe(
    [
      'x.md:3:13  pictures[0].file  [picture-unusable]  warning',
      '  found     no file "glass.jpg" in the folder of the batch',
      '  expected  a picture as .jpg, .png or .webp in the folder of the batch',
      '  mend      put the file there, or take the line out',
    ].join('\n'),
  );
});
