import { describe, expect, it } from 'vitest';
import { recipeCard } from '../../lib/paper/card.ts';
import { cellarSheet } from '../../lib/paper/cellar.ts';
import { kettleSheet } from '../../lib/paper/kettle.ts';
import { CAUTIONS } from '../../lib/words/cautions.ts';
import { ingredientBlocks, inWorkOrder, splitBlock } from '../../lib/words/lists.ts';
import { itemWords, waitMinutes } from '../../lib/words/words.ts';
import { batch, brewery, plan, timetable } from './fixture.ts';

const kettle = kettleSheet(batch, plan, brewery);
const withoutClock = plan.timetable.map((row) => ({ ...row, clock: null }));
const blocksOf = ({ stove, after, together }: typeof kettle) => [...stove, ...after, ...together.flat()];
const steps = blocksOf(kettle).flatMap((block) => (block.kind === 'step' ? [block] : []));
const said = ({ words }: (typeof steps)[number]): string =>
  words.map(({ act, rest }) => `${act} ${rest}`.trim()).join(' ');
const stepOf = (act: string) => steps.find((step) => said(step).includes(act))!;

describe('kettle sheet', () => {
  it('counts the minutes left of the boil, and before and after it tells the time: never both in one style', () => {
    const marks = steps.flatMap(({ mark }) => (mark === null ? [] : [mark]));
    // Additions at 60, 12, 10 and 0; sanitised with 20 left; made ready before the addition with 10 left, at 12 there is one too.
    expect(marks.flatMap(({ left }) => left ?? [])).toEqual(['60', '20', '14', '12', '10', '0']);
    expect(stepOf('Hold').mark?.left ?? null).toBeNull();
    for (const { time } of marks) expect(time).toMatch(/^\d\d:\d\d$/);
    const undated = kettleSheet({ ...batch, start: null }, { ...plan, timetable: withoutClock }, brewery);
    const times = blocksOf(undated).flatMap((block) =>
      block.kind === 'step' ? (block.mark?.time ?? []) : [],
    );
    expect(times[0]).toBe('+0:00');
    for (const time of times) expect(time).toMatch(/^\+\d:\d\d$/);
  });

  it('puts what goes in at one minute into one step', () => {
    expect(said(stepOf('finings'))).toBe('Add 1 kettle finings and 1\u00a0tsp yeast nutrient.');
  });

  it('turns the flame off before extract goes in and on after it, and says how long the count stands still', () => {
    const pause = Math.round(plan.pauses.find(({ minutes_left }) => minutes_left === 12)!.minutes);
    expect(said(stepOf('1.1\u00a0kg'))).toBe(
      `Flame off. Stir in 1.1\u00a0kg pale liquid extract. Flame on; the count stops, about ${pause}\u00a0min.`,
    );
  });

  it('says what to make ready while it boils, ahead of what goes in at the same minute', () => {
    const ready = stepOf('jar, hydrometer');
    expect(ready.mark?.left).toBe('14');
    expect(said(ready)).toMatch(
      /^Ready: tub, cold water(, [^;]+ ice)?; yeast out of the cold; jar, hydrometer\.$/,
    );
    expect(stepOf('Sanitise fermenter').mark?.left).toBe('20');
  });

  it('has minutes that add up: each wait leads to the time of the next step', () => {
    const rows = timetable.filter(({ minute }) => minute >= 0);
    let waits = 0;
    rows.forEach((row, index) => {
      const next = rows[index + 1];
      if (
        !('minutes' in row) ||
        next === undefined ||
        ['boil begins', 'stand', 'transfer'].includes(row.action)
      )
        return;
      if (row.minutes === 0) return;
      expect(waitMinutes(row), row.action).toBe(Math.round(next.minute) - Math.round(row.minute));
      waits++;
    });
    expect(waits).toBeGreaterThan(6);
  });

  it('asks with a circle only whether an addition was left out', () => {
    const fields = blocksOf(kettle).flatMap((block) => ('fields' in block ? block.fields : []));
    for (const { key, leftOut } of fields) expect(leftOut, key).toBe(key.startsWith('additions'));
  });

  it('asks for no gravity that few hydrometers reach', () => {
    const dense = { ...plan.targets.boil_end_gravity!, value: 1.104 };
    const sheet = kettleSheet(
      batch,
      { ...plan, targets: { ...plan.targets, boil_end_gravity: dense } },
      brewery,
    );
    const keys = (of: typeof kettle) =>
      blocksOf(of).flatMap((block) => ('fields' in block ? block.fields.map(({ key }) => key) : []));
    expect(keys(kettle)).toContain('boil_end_gravity');
    expect(keys(sheet)).not.toContain('boil_end_gravity');
  });

  it('repeats every amount of the brew day in the step that uses it', () => {
    const all = steps.map(said).join(' ');
    for (const item of inWorkOrder(batch).filter(({ add }) => add.at !== 'dry'))
      expect(all, item.name).toContain(itemWords(item, 'metric'));
  });

  it('says leave it alone in the middle row of the strip', () => {
    const rows = blocksOf(kettle).flatMap((block) => (block.kind === 'strips' ? block.corrections : []));
    expect(rows).toHaveLength(plan.corrections.length);
    expect(rows[Math.floor(rows.length / 2)]?.remedy).toBe('leave it alone');
  });

  it('names what is assumed', () => {
    expect(kettle.assumed.join()).toContain('6\u00a0L/kg');
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

describe('hops by their packet', () => {
  it('weigh what is as bitter: weight × alpha stays the same', () => {
    const [row] = kettle.packets;
    // 30 g at 4.6 %: 138 g %, over 3.6, 4.1, 4.6, 5.1 and 5.6.
    expect(row?.weights.map(({ alpha, weight }) => `${alpha} ${weight}`.replaceAll('\u00a0', ' '))).toEqual([
      '3.6 % 38 g',
      '4.1 % 34 g',
      '4.6 % 30 g',
      '5.1 % 27 g',
      '5.6 % 25 g',
    ]);
    expect(kettle.packets).toHaveLength(1);
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
    const written = JSON.stringify(
      recipeCard(batch, plan, { units: 'metric', language: 'en' }, 'Keeper of Lock 14', null),
    );
    expect(written).not.toMatch(/2026|Feb|13:30/);
  });
});

describe('for a brewer in US units', () => {
  it('shows no litre, gram or degree Celsius that the brewer did not write', () => {
    const written = timetable
      .flatMap(({ items }) => items.flatMap(({ amount, note }) => [amount.written, note ?? '']))
      .sort((a, b) => b.length - a.length);
    const blocks = blocksOf(kettleSheet(batch, { ...plan, assumed: [] }, { units: 'us', language: 'en-US' }));
    const computed = JSON.stringify([
      blocks.map((block): unknown => {
        if (block.kind === 'strips') return [block.lookup, block.corrections];
        return block.kind === 'step' ? [block.words, block.notes, block.fields] : [];
      }),
      cellarSheet(batch, plan, { units: 'us', language: 'en-US' }).priming,
      cellarSheet(batch, plan, { units: 'us', language: 'en-US' }).headlines,
    ]).replaceAll('\u00a0', ' ');
    const left = written.reduce((text, one) => (one === '' ? text : text.replaceAll(one, '')), computed);
    expect(/.*(\d (?:L|g|kg|ml)\b|°C)/.exec(left)?.[0].slice(-60)).toBeUndefined();
  });
});
