/** `training-crops.ts HANDS.json OUT.bin PAGES SEED`: crops as the reader cuts them, each after a byte for its class. */
import { appendFileSync, writeFileSync } from 'node:fs';
import { CROP, cropOf } from '../../../lib/photo/crop.ts';
import { findPage } from '../../../lib/photo/find-page.ts';
import { moved } from '../../../lib/photo/homography.ts';
import { EMPTY, MARKED_CIRCLE, OTHER, PLAIN_CIRCLE } from '../../../lib/photo/net.ts';
import { settlePage } from '../../../lib/photo/settle.ts';
import { loadHands } from './handwriting.ts';
import { drawnPage, fillPage, printPage } from './paper.ts';
import { LEVELS, photograph } from './photograph.ts';
import { randomFrom } from './random.ts';

const [hands = '', out = '', pages = '1', seed = '1'] = process.argv.slice(2);
const sources = loadHands(hands);
const SIGNS: Readonly<Record<string, number>> = { ' ': EMPTY, x: OTHER };

writeFileSync(out, '');
for (let i = 0; i < Number(pages); i += 1) {
  const random = randomFrom(Number(seed) * 100_003 + i);
  const page = drawnPage('dense');
  const printed = printPage(page, random, sources);
  const { ink, truth } = fillPage(page, random, sources, 'train');
  const picture = photograph(printed, ink, random, random.pick(LEVELS));
  const found = findPage(picture, (strip) => strip === page.strip);
  if (typeof found === 'string') continue;
  const [frame] = page.corner_marks_mm;
  const view = moved(found.view, -frame!.x, -frame!.y);
  const crops: Buffer[] = [];
  const shifts = settlePage(picture, view, page);
  for (const [at, { id, groups, circle_mm }] of page.fields.entries()) {
    const digits = groups.flatMap(({ cells }) => cells).filter(({ kind }) => kind === 'digit');
    const by = shifts[at]!;
    const wrote = truth.get(id)!;
    const shown = [
      ...digits.map(({ box_mm }, nth) => {
        const sign = wrote.digits.join('')[nth]!;
        return { box: box_mm, label: SIGNS[sign] ?? Number(sign) };
      }),
      ...(circle_mm ? [{ box: circle_mm, label: wrote.circle ? MARKED_CIRCLE : PLAIN_CIRCLE }] : []),
    ];
    for (const { box, label } of shown) {
      const crop = cropOf(picture, view, { ...box, x: box.x + by.x, y: box.y + by.y }, found.black);
      crops.push(Buffer.from([label]), Buffer.from(crop.map((value) => Math.round(value * 255))));
    }
  }
  appendFileSync(out, Buffer.concat(crops));
}
console.log(out, CROP.width, CROP.height);
