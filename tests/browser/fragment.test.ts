import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Changes, FIGURE_NAMES, FIGURES, settled } from '../../lib/browser/recipe/changes.ts';
import { fromFragment, LONGEST_LINK, toFragment } from '../../lib/browser/recipe/fragment.ts';

const PACKETS = 60;

const figures = fc.record(
  Object.fromEntries(
    FIGURE_NAMES.map((name) => [
      name,
      fc.double({ min: FIGURES[name].low, max: FIGURES[name].high, noNaN: true }).map(settled),
    ]),
  ),
  { requiredKeys: [] },
);
const alphas = fc.dictionary(
  fc.integer({ min: 0, max: PACKETS - 1 }).map(String),
  fc.integer({ min: 10, max: 3000 }).map((hundredths) => hundredths / 100 / 100),
  { minKeys: 1, maxKeys: PACKETS },
);
const changes: fc.Arbitrary<Changes> = fc
  .tuple(
    figures,
    fc.record(
      {
        alphas,
        extract: fc.constantFrom('liquid' as const, 'dry' as const),
        units: fc.constantFrom('metric' as const, 'us' as const),
        paper: fc.constantFrom('a4' as const, 'letter' as const),
      },
      { requiredKeys: [] },
    ),
  )
  .map(([numbers, rest]) => ({ ...numbers, ...rest }) as Changes);

describe('the end of a link', () => {
  it('brings back every change that it was made from, and is short', () => {
    fc.assert(
      fc.property(changes, (given) => {
        const text = toFragment(given);
        const { changes: back, faults } = fromFragment(`#${text}`, PACKETS);
        expect(faults).toEqual([]);
        expect(text.length).toBeLessThan(LONGEST_LINK);
        const { alphas: wanted, ...others } = given;
        const { alphas: found, ...otherBack } = back;
        expect(otherBack).toEqual(others);
        for (const [index, alpha] of Object.entries(wanted ?? {}))
          expect(found?.[Number(index)]).toBeCloseTo(alpha, 12);
      }),
      { numRuns: 500 },
    );
  });

  it('is empty where nothing is changed', () => {
    expect(toFragment({})).toBe('');
    expect(fromFragment('', 3)).toEqual({ changes: {}, faults: [] });
    expect(fromFragment('#method', 3)).toEqual({ changes: {}, faults: [] });
  });

  it.each([
    ['#fit=2&v=12', 'another version'],
    ['#fit=&v=12', 'another version'],
    ['#fit=1&v=1e3', 'volume'],
    ['#fit=1&v=0', 'volume'],
    ['#fit=1&v=NaN', 'volume'],
    ['#fit=1&k=-5', 'kettle'],
    ['#fit=1&k=9999', 'kettle'],
    ['#fit=1&m=12.', 'altitude'],
    ['#fit=1&h=0x10', 'heat'],
    ['#fit=1&b=', 'boil-off'],
    ['#fit=1&a=5,5,5,5', 'alpha'],
    ['#fit=1&a=95', 'alpha'],
    ['#fit=1&a=<b>', 'alpha'],
    [`#fit=1&v=12&${'z'.repeat(2100)}`, 'too long'],
  ])('that asks for what no kitchen has is told of: %s', (hash, word) => {
    const { changes: back, faults } = fromFragment(hash, 3);
    expect(faults.join()).toContain(word);
    expect(back).toEqual({});
  });

  it('keeps what is sound beside what is not', () => {
    expect(fromFragment('#fit=1&v=12&k=nonsense&x=powder&u=us', 3)).toEqual({
      changes: { intoFermenter_L: 12, units: 'us' },
      faults: ['its kettle is not possible in a kitchen'],
    });
  });

  it('whatever stands in it, gives changes within the limits and throws nothing', () => {
    const letters = fc.constantFrom('v', 'k', 'b', 'h', 'm', 'a', 'x', 'u', 'p', 'fit', '__proto__');
    const pairs = fc.array(fc.tuple(letters, fc.string({ unit: 'binary' })), { maxLength: 12 });
    fc.assert(
      fc.property(pairs, (list) => {
        const text = list.map(([key, value]) => `${key}=${encodeURIComponent(value)}`).join('&');
        const { changes: back } = fromFragment(`#fit=1&${text}`, 3);
        for (const name of FIGURE_NAMES) {
          const value = back[name];
          if (value === undefined) continue;
          expect(value).toBeGreaterThanOrEqual(FIGURES[name].low);
          expect(value).toBeLessThanOrEqual(FIGURES[name].high);
        }
      }),
    );
  });
});
