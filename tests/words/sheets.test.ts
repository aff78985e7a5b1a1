import { describe, expect, it } from 'vitest';
import type { Batch } from '../../lib/batch/types/batch.ts';
import { recipeCard } from '../../lib/paper/card.ts';
import { cellarSheet } from '../../lib/paper/cellar.ts';
import { kettleSheet } from '../../lib/paper/kettle.ts';
import { CAUTIONS } from '../../lib/words/cautions.ts';
import { ingredientBlocks, inWorkOrder, splitBlock } from '../../lib/words/lists.ts';
import { itemWords, rowSentence } from '../../lib/words/words.ts';
import { batch, brewery, plan, timetable } from './fixture.ts';

const kettle = kettleSheet(batch, plan, brewery);
const groups = kettle.stages.flatMap((stage) =>
  stage.blocks.flatMap((block) => (block.kind === 'additions' ? block.groups : [])),
);

describe('kettle sheet', () => {
  it('puts the additions of one minute into one block, with minutes left and gone', () => {
    expect(groups.map((group) => [group.left, group.gone])).toEqual([
      ['60', '0'],
      ['12', '48'],
      ['10', '50'],
      ['0', '60'],
      ['Stand', ''],
    ]);
    expect(groups[2]?.lines.map((line) => `${line.act} ${line.rest}`)).toEqual([
      'Add 1 kettle finings.',
      'Add 1\u00a0tsp yeast nutrient.',
    ]);
  });

  it('turns the flame off before extract goes in and on after it', () => {
    expect(groups[1]?.lines[0]?.act).toBe('Flame off. Stir in');
    expect(groups[1]?.pause).toMatch(/^Flame on\./);
  });

  it('marks the minutes to watch', () => {
    expect(groups.filter((group) => group.watch).map((group) => group.left)).toEqual(['60', '12']);
  });

  it('repeats every amount of the brew day in the step that uses it', () => {
    const said = [
      ...groups.flatMap((group) => group.lines.map((line) => line.rest)),
      ...kettle.stages.flatMap((stage) =>
        stage.blocks.flatMap((block) => (block.kind === 'step' ? [block.rest] : [])),
      ),
    ].join(' ');
    for (const item of inWorkOrder(batch).filter(({ add }) => add.at !== 'dry'))
      expect(said, item.name).toContain(itemWords(item, 'metric'));
  });

  it('says leave it alone in the middle row of the strip', () => {
    const strips = kettle.stages.flatMap((stage) => stage.blocks.filter((block) => block.kind === 'strips'));
    const rows = strips.flatMap((block) => (block.kind === 'strips' ? block.corrections : []));
    expect(rows).toHaveLength(plan.corrections.length);
    expect(rows[Math.floor(rows.length / 2)]?.remedy).toBe('leave it alone');
  });

  it('names what is assumed', () => {
    expect(kettle.assumed.join()).toContain('6\u00a0L/kg');
  });
});

describe('a kettle sheet of powder alone', () => {
  const powder: Batch = {
    ...batch,
    recipe: { ...batch.recipe, extract: batch.recipe.extract.map((one) => ({ ...one, form: 'dry' })) },
  };
  const said = (of: Batch): string => JSON.stringify(kettleSheet(of, plan, brewery));

  it('asks for no tin opener and warns of no can', () => {
    expect(said(batch)).toContain('tin opener');
    expect(said(batch)).toContain(CAUTIONS.closedCan.hazard);
    expect(said(powder)).not.toContain('tin opener');
    expect(said(powder)).not.toContain(CAUTIONS.closedCan.hazard);
  });
});

describe('the volume in the head of a sheet', () => {
  const head = (written: string, value: number, units: 'metric' | 'us') => {
    const volume = { ...batch.recipe.intoFermenter_L, written, value } as typeof batch.recipe.intoFermenter_L;
    const sheet = kettleSheet({ ...batch, recipe: { ...batch.recipe, intoFermenter_L: volume } }, plan, {
      units,
      language: 'en',
    });
    const { number, unit } = sheet.headlines.find(({ label }) => label === 'into the fermenter')!;
    return `${number} ${unit}`;
  };

  it.each([
    ['19 L', 19, 'metric', '19 L'],
    ['5 us gal', 18.927, 'us', '5 gal'],
    // 12.67 quarts.
    ['3 1/6 gal', 11.987, 'us', '3 gal 0.75 qt'],
  ] as const)('is in the brewer’s units, however it was written: %s', (written, value, units, shown) => {
    expect(head(written, value, units)).toBe(shown);
  });
});

describe('cautions', () => {
  it('say hazard, consequence and how to avoid it', () => {
    for (const caution of Object.values(CAUTIONS))
      for (const part of [caution.hazard, caution.consequence, caution.avoid])
        expect(part.length).toBeGreaterThan(3);
  });
});

describe('lists', () => {
  it('never have more than nine lines under one head', () => {
    for (const count of [1, 9, 10, 19, 30]) {
      const blocks = splitBlock({ heading: 'All', lines: Array.from({ length: count }, () => 'a line') });
      expect(blocks.flatMap((block) => block.lines)).toHaveLength(count);
      expect(Math.max(...blocks.map((block) => block.lines.length))).toBeLessThanOrEqual(9);
    }
  });

  it('are in work order', () => {
    expect(inWorkOrder(batch).map(({ path }) => path)).toEqual([
      'grain[0]',
      'extract[0]',
      'hops[0]',
      'extract[1]',
      'other[0]',
      'other[2]',
      'sugar[0]',
      'other[1]',
      'hops[1]',
      'yeast[0]',
      'hops[2]',
    ]);
  });

  it('have equal ingredients once, summed up with their parts', () => {
    const lines = ingredientBlocks(batch, plan, brewery).flatMap((block) => block.lines);
    const extract = lines.filter(({ what }) => what.startsWith('pale liquid extract'));
    expect(extract.map(({ amount, when }) => [amount, when])).toEqual([
      ['2.6\u00a0kg', '1.5\u00a0kg start of boil + 1.1\u00a0kg 12\u00a0min left'],
    ]);
  });
});

describe('recipe card', () => {
  it('tells no date, reading or note of the brew day', () => {
    const written = JSON.stringify(recipeCard(batch, plan, 'metric', 'Keeper of Lock 14', null));
    expect(written).not.toMatch(/2026|Feb|13:30/);
  });
});

describe('for a brewer in US units', () => {
  it('shows no litre, gram or degree Celsius that the brewer did not write', () => {
    const written = timetable.flatMap(({ items }) => items.map(({ amount }) => amount.written));
    const blocks = kettleSheet(
      batch,
      { ...plan, assumed: [] },
      { units: 'us', language: 'en-US' },
    ).stages.flatMap((stage) => stage.blocks);
    const computed = JSON.stringify([
      blocks.map((block): unknown => {
        if (block.kind === 'strips') return [block.lookup, block.corrections];
        return block.kind === 'step' ? [block.notes, block.fields] : [];
      }),
      cellarSheet(batch, plan, 'us').priming,
      cellarSheet(batch, plan, 'us').headlines,
    ]).replaceAll('\u00a0', ' ');
    const left = written.reduce<string>(
      (text, one) => (one === null ? text : text.replaceAll(one, '')),
      computed,
    );
    expect(left).not.toMatch(/\d (L|g|kg|ml)\b|°C/);
  });
});

describe('sentences', () => {
  it('are short enough for two lines at 18 pt', () => {
    // 148 mm hold at least 45 letters of 18 pt: measured on paper in tests/paper/paper.
    for (const row of timetable)
      expect(rowSentence(row, brewery).length, rowSentence(row, brewery)).toBeLessThanOrEqual(90);
  });
});
