import { describe, expect, it } from 'vitest';
import { plainText, withoutControls } from '../../../lib/archive/schema/plain-text.ts';
import { quoted } from '../../../lib/units/parse/parsed.ts';

const HEBREW = '\u05e4\u05d5\u05d2\u05dc';
const ARABIC = '\u062c\u0646\u062c\u0644';

describe('the words of a brewer', () => {
  it.each([
    ['Fuggle', 'Fuggle'],
    ['  towpath\tpale ', 'towpath\tpale'],
    ['two\nlines', 'two\nlines'],
    ['ale \u202e30 g\u202c', 'ale 30 g'],
    ['\u2066a\u2069 \u2067b\u2069 \u2068c\u2069 \u202ad\u202b e\u202d', 'a b c d e'],
    ['\u001b[31mred\u0000 \u009b1m\u007f', '[31mred 1m'],
    ['half \ud83c of a mug', 'half \ufffd of a mug'],
    ['mug \ud83c\udf7a', 'mug \ud83c\udf7a'],
    ['\u202e', ''],
  ])('%j is read as %j', (written, read) => {
    expect(plainText(written)).toBe(read);
    expect(withoutControls(read)).toBe(read);
  });

  it.each([HEBREW, ARABIC, `ale ${HEBREW}`, `${HEBREW} (30)`])(
    'end with a mark where the last letter runs to the left: %s',
    (written) => {
      expect(plainText(written)).toBe(`${written}\u200e`);
      expect(plainText(plainText(written))).toBe(`${written}\u200e`);
    },
  );

  it.each([`${HEBREW} ale`, 'Кёльш', '黑啤酒', 'Ølbryg'])(
    'are left alone where it does not: %s',
    (written) => {
      expect(plainText(written)).toBe(written);
    },
  );
});

it('nothing quoted from a file reaches a terminal as a command or turns its line', () => {
  expect(quoted('a\u001b[31mb\u009b1mc\u0000d\u202ee\ud83cf\ud83c\udf7a')).toBe(
    '"a [31mb 1mc d e f\ud83c\udf7a"',
  );
});
