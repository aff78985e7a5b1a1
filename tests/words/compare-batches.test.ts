import { describe, expect, it } from 'vitest';
import { comparableView } from '../../lib/site/pages/comparable-view.ts';
import { recipeWords } from '../../lib/words/comparable-words.ts';
import { compareBatches, figureChange, recipeChanges } from '../../lib/words/compare-batches.ts';
import { brewed, planFor } from '../site/fixture.ts';

describe('two batches', () => {
  const other = (change: Partial<typeof brewed.recipe>): typeof brewed => ({
    ...brewed,
    recipe: { ...brewed.recipe, ...change },
  });
  const changed = (was: typeof brewed, is: typeof brewed) =>
    recipeChanges(recipeWords(was, 'metric'), recipeWords(is, 'metric'));
  const all = (batch: typeof brewed) =>
    comparableView({ batch, plan: planFor(batch) }, { units: 'metric', language: 'en-GB' }, '');

  it('have nothing otherwise where they are the same', () => {
    const { names, recipe, figures } = compareBatches(all(brewed), all(brewed));
    expect([names, recipe]).toEqual([[], []]);
    expect(figures.map(({ title }) => title)).toContain('My pot');
    for (const group of figures) expect(group.differ).toEqual([]);
  });

  it('differ in what was added, left out and changed, each named once', () => {
    const [first, ...rest] = brewed.recipe.hops;
    const heavier = {
      ...first!,
      weight_g: { ...first!.weight_g, value: first!.weight_g.value, written: '55 g' },
    };
    const changes = changed(brewed, other({ hops: [heavier, ...rest.slice(1)] }));
    const hops = changes.filter(({ what }) => what === 'Hops');
    expect(hops.filter(({ is }) => is === null).length).toBe(1);
    const one = hops.find(({ was, is }) => was !== null && is !== null)!;
    expect(one.is).toContain('55\u00a0g');
    expect(one.by).toBe(`+${55 - first!.weight_g.value}\u00a0g`);
  });

  it('are held against each other by title, readings, times and figures of the kit', () => {
    const later: typeof brewed = {
      ...brewed,
      title: 'Winding Hole Strong',
      setup: {
        ...brewed.setup,
        boilOff_L_per_h: { value: 3.1, u: 0.1, written: '3.1 L/h', assumed: false },
      },
      readings: { ...brewed.readings, boil_started: '14:00', boil_ended: '15:20' },
    };
    const found = compareBatches(
      all({
        ...brewed,
        readings: { ...brewed.readings, boil_started: '14:00', boil_ended: '15:00' },
      }),
      all(later),
    );
    expect(found.names.map(({ what }) => what)).toEqual(['Title']);
    const differing = (title: string) => found.figures.find((group) => group.title === title)?.differ ?? [];
    expect(differing('My pot')).toEqual([
      { label: 'Boil-off', was: '2.2\u00a0L/h', is: '3.1\u00a0L/h', by: '+0.9', clear: true },
    ]);
    // 14:00 to 15:00 and to 15:20.
    expect(differing('By clock and calendar')).toContainEqual({
      label: 'Boil by the clock',
      was: '60\u00a0min',
      is: '1\u00a0h\u00a020\u00a0min',
      by: '+20',
      clear: true,
    });
  });

  it.each([
    ['14:50', [['Boil began until 10 min', '50', 'min', '50\u00a0min']]],
    ['left out', []],
  ] as const)('have the time of an addition noted as %s', (clock, expected) => {
    const additions = [{ at: '10 min', clock, minutesLeft: null }] as const;
    const { figures } = all({ ...brewed, readings: { boil_started: '14:00', additions } });
    const times = figures.find(({ title }) => title === 'By clock and calendar')?.rows ?? [];
    expect(times.filter(([label]) => label.startsWith('Boil began'))).toEqual(expected);
  });

  it('differ clearly only by more than two standard uncertainties of the difference', () => {
    // 2 · √(1² + 1²) = 2.83
    const of = (value: string): readonly [string, string, string, string, number] => [
      'x',
      value,
      'g',
      value,
      1,
    ];
    expect(figureChange(of('10'), of('12.8')).clear).toBe(false);
    expect(figureChange(of('10'), of('12.9')).clear).toBe(true);
    expect(figureChange(of('12.9'), of('10')).clear).toBe(true);
  });

  it('tell nothing of the altitude, and nothing at all of a batch that is not shown', () => {
    const high = { ...brewed.setup, altitude_m: { value: 1337, u: 1, written: '1337 m', assumed: false } };
    expect(JSON.stringify(all({ ...brewed, setup: high }))).not.toContain('1337');
    expect(() => all({ ...brewed, publish: 'recipe' })).toThrow();
    expect(() => all({ ...brewed, publish: 'nothing' })).toThrow();
  });
});
