import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparableView } from '../../lib/site/pages/comparable-view.ts';
import { recipeWords } from '../../lib/words/comparable-words.ts';
import { compareBatches, figureChange, recipeChanges, textChanges } from '../../lib/words/compare-batches.ts';
import { wordChanges } from '../../lib/words/word-changes.ts';
import { brewed, planFor } from '../site/fixture.ts';

const words = fc
  .array(fc.constantFrom('30', 'g', 'Fuggle,', '60', 'min', 'left', 'honey'), { maxLength: 14 })
  .map((list) => list.join(' '));

describe('word by word', () => {
  it('holds both texts, whatever they are', () => {
    fc.assert(
      fc.property(words, words, (was, is) => {
        const runs = wordChanges(was, is);
        const without = (mark: string) =>
          runs
            .filter((run) => run.mark !== mark)
            .map(({ text }) => text)
            .join(' ');
        expect(without('new')).toBe(was);
        expect(without('gone')).toBe(is);
      }),
    );
  });

  it('marks nothing where nothing changed', () => {
    fc.assert(
      fc.property(words, (text) => {
        expect(wordChanges(text, text).every(({ mark }) => mark === 'same')).toBe(true);
      }),
    );
  });
});

describe('figures', () => {
  it.each([
    ['steeped at 68 C, then rinsed', 'steeped at 68 °C, then rinsed'],
    ['15g', '15 g'],
    ['add 15g.', 'add 15\u00a0g.'],
    ['1 kg of it', '1000 g of it'],
    ['at 154.4 °F', 'at 68 °C'],
    ['17-22 °C', '17-22 C'],
    ['1.5 h later', '90 min later'],
    ['1,5 kg', '1.5 kg'],
  ])('are no change where they mean the same: %s, %s', (was, is) => {
    expect(wordChanges(was, is)).toEqual([{ mark: 'same', text: is }]);
    expect(textChanges([{ what: 'x', text: was }], [{ what: 'x', text: is }])).toEqual([]);
  });

  it.each([
    ['68 °C', '68 °F'],
    ['15 g', '15 oz'],
    ['15 g', '15 ml'],
    ['15 g,', '15 g'],
    ['17-22 °C', '17-21 °C'],
    ['2 packs', '2 pints'],
    ['1.048', '1.0480'],
    ['batch 15\ng of it', 'batch 15 g of it'],
  ])('are one where they do not: %s, %s', (was, is) => {
    const marks = wordChanges(was, is).map(({ mark }) => mark);
    expect(marks).toContain('gone');
    expect(marks).toContain('new');
  });
});

describe('two batches', () => {
  const other = (change: Partial<typeof brewed.recipe>): typeof brewed => ({
    ...brewed,
    recipe: { ...brewed.recipe, ...change },
  });
  const changed = (was: typeof brewed, is: typeof brewed) =>
    recipeChanges(recipeWords(was, 'metric'), recipeWords(is, 'metric'));
  const all = (batch: typeof brewed) => comparableView({ batch, plan: planFor(batch) }, 'metric');

  it('have nothing otherwise where they are the same', () => {
    const { names, recipe, figures, remarks } = compareBatches(all(brewed), all(brewed));
    expect([names, recipe, remarks]).toEqual([[], [], []]);
    expect(figures.map(({ title }) => title)).toContain('The kit');
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
    expect(hops.map(({ kind }) => kind).sort()).toEqual(['changed', 'left out']);
    const one = hops.find(({ kind }) => kind === 'changed')!;
    expect(one.runs.filter(({ mark }) => mark === 'new').map(({ text }) => text)).toEqual(['55\u00a0g']);
    expect(one.by).toBe(`+${55 - first!.weight_g.value}\u00a0g`);
  });

  it('say which kit each was brewed on', () => {
    const moved = { ...brewed, setup: { ...brewed.setup, title: 'A pot in the yard' } };
    expect(changed(brewed, moved).map(({ what }) => what)).toEqual(['Kit']);
  });

  it('are held against each other by title, notes, readings, times and figures of the kit', () => {
    const later: typeof brewed = {
      ...brewed,
      title: 'Winding Hole Strong',
      notes: 'Less malt, longer rest.',
      setup: {
        ...brewed.setup,
        boilOff_L_per_h: { value: 3.1, u: 0.1, written: '3.1 L/h', assumed: false },
      },
      readings: { ...brewed.readings, boil_started: '14:00', boil_ended: '15:20' },
    };
    const found = compareBatches(
      all({
        ...brewed,
        notes: 'More malt, longer rest.',
        readings: { ...brewed.readings, boil_started: '14:00', boil_ended: '15:00' },
      }),
      all(later),
    );
    expect(found.names.map(({ what }) => what)).toEqual(['Title']);
    const notes = found.remarks.find(({ what }) => what === 'Notes')!;
    expect(notes.runs).toEqual([
      { mark: 'gone', text: 'More' },
      { mark: 'new', text: 'Less' },
      { mark: 'same', text: 'malt, longer rest.' },
    ]);
    const differing = (title: string) => found.figures.find((group) => group.title === title)?.differ ?? [];
    expect(differing('The kit')).toEqual([
      { label: 'Evaporation', was: '2.2\u00a0L/h', is: '3.1\u00a0L/h', by: '+0.9' },
    ]);
    // 14:00 to 15:00 and to 15:20.
    expect(differing('By clock and calendar')).toContainEqual({
      label: 'Boil by the clock',
      was: '60\u00a0min',
      is: '1\u00a0h\u00a020\u00a0min',
      by: '+20',
    });
  });

  it('differ in a figure that only one of them has, without a difference', () => {
    expect(figureChange(null, ['Top-up water', '8.0', 'L'])).toEqual({
      label: 'Top-up water',
      was: '',
      is: '8.0\u00a0L',
      by: '',
    });
    expect(figureChange(['Sugar', '900', 'g'], ['Sugar', '1.1', 'kg']).by).toBe('');
    expect(figureChange(['Gravity', '1.048'], ['Gravity', '1.0465']).by).toBe('−0.0015');
    expect(figureChange(['Gas', '−2', '°C'], ['Gas', '1', '°C']).by).toBe('+3');
  });

  it('tell nothing of the altitude, and nothing at all of a batch that is not shown', () => {
    const high = { ...brewed.setup, altitude_m: { value: 1337, u: 1, written: '1337 m', assumed: false } };
    expect(JSON.stringify(all({ ...brewed, setup: high }))).not.toContain('1337');
    expect(() => all({ ...brewed, publish: 'recipe' })).toThrow();
    expect(() => all({ ...brewed, publish: 'nothing' })).toThrow();
  });
});
