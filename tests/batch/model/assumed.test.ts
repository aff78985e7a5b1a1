/** What is marked as assumed on the sheet, and what a plan is called. */
import { describe, expect, it } from 'vitest';
import { assumedFigures } from '../../../lib/batch/model/assumed.ts';
import { SETUP_DEFAULTS } from '../../../lib/batch/model/defaults.ts';
import { revisionOf } from '../../../lib/batch/plan/revision.ts';
import { sampleSetup } from '../sample.ts';
import { own } from '../sample-plan.ts';

describe('assumed figures', () => {
  const keys = (uses: { steep: boolean; mash: boolean }) =>
    assumedFigures(sampleSetup(), uses, 'metric').map(({ key }) => key);
  const ALWAYS = [
    'kettle_loss',
    'heat',
    'boil_off',
    'hop_absorption',
    'fermenter_loss',
    'chill.to',
    'chill.in',
    'water_temperature',
    'top_up_temperature',
    'room_temperature',
    'altitude',
    'hydrometer.at',
    'chill.with',
  ];

  it('are those that matter to the batch', () => {
    expect([...keys({ steep: false, mash: false })].sort()).toEqual([...ALWAYS].sort());
    expect([...keys({ steep: true, mash: false })].sort()).toEqual(
      [...ALWAYS, 'grain_absorption', 'steep_efficiency'].sort(),
    );
    expect([...keys({ steep: false, mash: true })].sort()).toEqual(
      [...ALWAYS, 'grain_absorption', 'mash_efficiency'].sort(),
    );
  });

  it('are not those that the brewer states', () => {
    const setup = sampleSetup({ heat_kW: own(2), altitude_m: own(40) });
    const found = assumedFigures(setup, { steep: false, mash: false }, 'metric').map(({ key }) => key);
    expect(found).toEqual(ALWAYS.filter((key) => key !== 'heat' && key !== 'altitude'));
  });

  it('come with their unit and their reason, shares in percent', () => {
    const found = assumedFigures(sampleSetup(), { steep: true, mash: false }, 'metric');
    expect(found.find(({ key }) => key === 'boil_off')).toEqual({
      key: 'boil_off',
      value: '2.5 L/h',
      reason: SETUP_DEFAULTS.boil_off.reason,
    });
    expect(found.find(({ key }) => key === 'steep_efficiency')?.value).toBe('50 %');
  });

  it('stand in the units of the brewer', () => {
    const found = assumedFigures(sampleSetup(), { steep: true, mash: false }, 'us');
    const text = (wanted: string) => found.find(({ key }) => key === wanted)?.value;
    // 12 °C and 20 °C by hand: 9/5 t + 32.
    expect(text('room_temperature')).toBe('68 °F');
    expect(text('top_up_temperature')).toMatch(/^\d+(?:\.\d)? °F$/);
    expect(found.map(({ value }) => value).join(' ')).not.toMatch(/ L|°C|\d\.\d{3}/);
  });
});

describe('the name of a plan', () => {
  it('is seven signs that no pencil confuses', () => {
    for (let i = 0; i < 200; i++) expect(revisionOf({ i })).toMatch(/^[2-9a-km-np-z]{7}$/);
  });

  it('is the same for the same plan, and another for another', () => {
    const names = Array.from({ length: 2000 }, (_, i) => revisionOf([{ a: i, b: 'x' }, [null, true]]));
    expect(new Set(names).size).toBe(2000);
    expect(revisionOf([{ a: 7, b: 'x' }, [null, true]])).toBe(names[7]);
  });

  it.each([
    [{ a: 1 }, { b: 1 }],
    [{ a: 1 }, { a: '1' }],
    [{ a: null }, { a: undefined }],
    [{ a: true }, { a: false }],
    [[1, 2], [12]],
    [['a', 'b'], ['a,b']],
    [{ a: [1] }, { a: { 0: 1 } }],
    [1.0001, 1.0002],
  ])('%j and %j are two plans', (one, other) => {
    expect(revisionOf(one)).not.toBe(revisionOf(other));
  });

  it('is made of twenty bits of one hash and fifteen of the next', () => {
    const fnv1a = (text: string, offset: bigint) =>
      [...text].reduce((hash, sign) => ((hash ^ BigInt(sign.charCodeAt(0))) * 16777619n) % 2n ** 32n, offset);
    // The published test vectors of FNV-1a in 32 bits (from memory).
    expect(fnv1a('', 0x811c9dc5n)).toBe(0x811c9dc5n);
    expect(fnv1a('a', 0x811c9dc5n)).toBe(0xe40c292cn);
    const first = fnv1a('true', 0x811c9dc5n);
    const second = fnv1a('true', first ^ 0x5bd1e995n);
    const signs = '23456789abcdefghijkmnpqrstuvwxyz';
    const taken = (hash: bigint, count: number) =>
      Array.from({ length: count }, (_, i) => signs[Number((hash / 32n ** BigInt(i)) % 32n)]).join('');
    expect(revisionOf(true)).toBe(taken(first, 4) + taken(second, 3));
  });

  it('does not hang on digits that no paper shows', () => {
    expect(revisionOf([1.0484999999])).toBe(revisionOf([1.0485]));
    expect(revisionOf([12.34567])).not.toBe(revisionOf([12.3468]));
  });
});
