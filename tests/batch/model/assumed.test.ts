/** What is marked as assumed on the sheet, and what a plan is called. */
import { describe, expect, it } from 'vitest';
import { assumedFigures } from '../../../lib/batch/model/assumed.ts';
import { SETUP_DEFAULTS } from '../../../lib/batch/model/defaults.ts';
import { revisionOf } from '../../../lib/batch/plan/revision.ts';
import { sampleSetup } from '../sample.ts';

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
    expect(found.map(({ value, reason }) => `${value} ${reason}`).join(' ')).not.toMatch(
      / (?:L|cm)\b|°C|\d\.\d{3}/,
    );
    const hops = found.find(({ key }) => key === 'hop_absorption')?.reason;
    // A quart to the pound is 0.946353 L / 0.453592 kg = 2.086 L/kg, so 4 to 10 L/kg are 1.9 to 4.8.
    expect(hops).toContain('from 2 to 5');
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

  it('does not hang on digits that no paper shows', () => {
    expect(revisionOf([1.0484999999])).toBe(revisionOf([1.0485]));
    expect(revisionOf([12.34567])).not.toBe(revisionOf([12.3468]));
  });
});
