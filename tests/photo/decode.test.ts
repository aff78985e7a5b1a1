import { describe, expect, it } from 'vitest';
import { decode, textOf } from '../../lib/photo/decode.ts';
import { EMPTY, loadNet, OTHER } from '../../lib/photo/net.ts';
import type { PhotoCell } from '../../lib/photo/strip.ts';

/** A box that shows `sign` with 0.9, and `second` with what is left: `_` is empty, `x` no digit. */
const box = (sign: string, second = ''): number[] => {
  const classes = new Array<number>(12).fill(0);
  const place = (one: string): number => (one === '_' ? EMPTY : one === 'x' ? OTHER : Number(one));
  classes[place(sign)] = second === '' ? 1 : 0.9;
  if (second !== '') classes[place(second)] = 0.1;
  return classes;
};
const boxes = (signs: string): number[][] => [...signs].map((sign) => box(sign));

describe('a number from its boxes', () => {
  it.each([
    ['clock', 'value', '1405', '1405'],
    ['clock', 'value', '_930', ' 930'],
    ['clock', 'value', '2460', null],
    ['clock', 'value', '1270', null],
    ['date', 'clock', '2359', '2359'],
    ['date', 'day', '31', '31'],
    ['date', 'day', '32', null],
    ['date', 'day', '00', null],
    ['gravity', 'value', '1048', '1048'],
    ['gravity', 'value', '0996', '0996'],
    ['gravity', 'value', '1102', '1102'],
    ['gravity', 'value', '1248', null],
    ['gravity', 'sample', '21', '21'],
    ['score', 'value', '50', '50'],
    ['score', 'value', '51', null],
    ['volume', 'value', '_95', ' 95'],
    ['volume', 'value', '1_5', null],
    ['volume', 'value', '12_', null],
    ['volume', 'value', '___', '   '],
    ['count', 'value', '2x', null],
  ] as const)('%s, %s: %s is %j', (kind, part, signs, digits) => {
    expect(decode(kind, part, boxes(signs)).digits).toBe(digits);
  });

  it('takes the next best digit where the best is impossible', () => {
    const guess = decode('clock', 'value', [box('1'), box('4'), box('7', '1'), box('5')]);
    expect(guess.digits).toBe('1415');
    expect(guess.probability).toBeCloseTo(0.1, 10);
  });

  it('never bends a possible number, however far it is from any plan', () => {
    expect(decode('gravity', 'value', [box('1'), box('1', '0'), box('9', '4'), box('9')]).digits).toBe(
      '1199',
    );
    expect(decode('volume', 'value', [box('9', '1'), box('9'), box('9')]).digits).toBe('999');
  });

  it('is as likely as its boxes together', () => {
    expect(decode('count', 'value', [box('1', '7'), box('2', '3')]).probability).toBeCloseTo(0.81, 10);
  });
});

describe('the text of a guess', () => {
  const cells = (pattern: string): PhotoCell[] =>
    [...pattern].map((sign) => ({
      kind: sign === '#' ? 'digit' : 'sign',
      text: sign === '#' ? '' : sign,
      box_mm: { x: 0, y: 0, width: 8, height: 10 },
    }));

  it.each([
    ['#.###', '1048', '1.048'],
    ['##:##', ' 905', '9:05'],
    ['##.#', ' 95', '9.5'],
    ['##.#', '   ', ''],
    ['###', '  7', '7'],
  ])('%s with %j is %j', (pattern, digits, text) => {
    expect(textOf({ part: 'value', cells: cells(pattern) }, digits)).toBe(text);
  });
});

it('weights of another length are refused', () => {
  expect(() => loadNet(new Uint8Array(1000))).toThrow(/1000 bytes of weights/);
});
