import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figureChanges, recipeChanges } from '../../lib/view/compare-batches.ts';
import { wordChanges } from '../../lib/view/word-changes.ts';
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

describe('two batches', () => {
  const other = (change: Partial<typeof brewed.recipe>): typeof brewed => ({
    ...brewed,
    recipe: { ...brewed.recipe, ...change },
  });

  it('have nothing otherwise where they are the same', () => {
    expect(recipeChanges(brewed, brewed)).toEqual([]);
    const entry = { batch: brewed, plan: planFor(brewed) };
    expect(figureChanges(entry, entry, 'metric').every(({ by }) => by === '')).toBe(true);
  });

  it('differ in what was added, left out and changed, each named once', () => {
    const [first, ...rest] = brewed.recipe.hops;
    const heavier = {
      ...first!,
      weight_g: { ...first!.weight_g, value: first!.weight_g.value, written: '55 g' },
    };
    const changes = recipeChanges(brewed, other({ hops: [heavier, ...rest.slice(1)] }));
    const hops = changes.filter(({ what }) => what === 'Hops');
    expect(hops.map(({ kind }) => kind).sort()).toEqual(['changed', 'left out']);
    const changed = hops.find(({ kind }) => kind === 'changed')!;
    expect(changed.runs.filter(({ mark }) => mark === 'new').map(({ text }) => text)).toEqual(['55\u00a0g']);
  });

  it('say which kit each was brewed on', () => {
    const moved = { ...brewed, setup: { ...brewed.setup, title: 'A pot in the yard' } };
    expect(recipeChanges(brewed, moved).map(({ what }) => what)).toEqual(['Kit']);
  });
});
