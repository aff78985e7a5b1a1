/** Pages that are none of those at hand: none is ever taken for one of them. `npm run photo:measure strangers` tries more. */
import { expect, it } from 'vitest';
import { readPage } from '../../lib/photo/read-page.ts';
import { layerFor, STRANGERS, strangePage } from '../tools/photo/paper.ts';
import { LEVELS, photograph } from '../tools/photo/photograph.ts';
import { randomFrom } from '../tools/photo/random.ts';

it.each(STRANGERS)('a page of the kind "%s" is refused', (kind) => {
  const codes = LEVELS.map((level, i) => {
    const random = randomFrom(500 + i);
    const { layer, atHand } = strangePage(random, kind);
    const reading = readPage(photograph(layer, layerFor(atHand[0]!, 6), random, level, 1400), atHand, []);
    return reading.kind === 'refused' ? reading.code : reading.page.strip;
  });
  const known =
    kind === 'foreign'
      ? ['strip-unreadable', 'not-found', 'cropped']
      : ['other-page', 'cropped', 'not-found', 'strip-unreadable'];
  for (const code of codes) expect(known).toContain(code);
  // In easy light it is known for what it is.
  expect(codes[0]).toBe(kind === 'foreign' ? 'strip-unreadable' : 'other-page');
});
