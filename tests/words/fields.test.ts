import { describe, expect, it } from 'vitest';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Readings } from '../../lib/batch/types/readings.ts';
import { type Field, formFields, sheetFields } from '../../lib/paper/blanks.ts';
import type { FieldView } from '../../lib/paper/blocks.ts';
import { cellarSheet } from '../../lib/paper/cellar.ts';
import { kettleSheet } from '../../lib/paper/kettle.ts';
import { batch, brewery, plan } from './fixture.ts';

/** Every key of the contract's `readings`, by the parts that are keyed one by one. */
const READINGS: { readonly [K in keyof Required<Readings>]: readonly string[] } = {
  heating_started: ['heating_started'],
  steep_in: ['steep_in'],
  steep_temperature: ['steep_temperature'],
  steep_out: ['steep_out'],
  mash_in: ['mash_in'],
  mash_temperature: ['mash_temperature'],
  mash_out: ['mash_out'],
  boil_started: ['boil_started'],
  boil_start_volume: ['boil_start_volume'],
  boil_start_gravity: ['boil_start_gravity'],
  additions: ['additions[].clock'],
  boil_ended: ['boil_ended'],
  boil_end_volume: ['boil_end_volume'],
  boil_end_gravity: ['boil_end_gravity'],
  chilled: ['chilled.at', 'chilled.temperature'],
  top_up: ['top_up.volume', 'top_up.temperature'],
  original_gravity: ['original_gravity'],
  fermenter_volume: ['fermenter_volume'],
  pitched: ['pitched.on', 'pitched.temperature', 'pitched.yeast'],
  fermentation: [
    'fermentation[].on',
    'fermentation[].gravity',
    'fermentation[].temperature',
    'fermentation[].note',
  ],
  warmest_after: ['warmest_after'],
  fermented_out: [],
  final_gravity: ['final_gravity'],
  packaged: [
    'packaged[].on',
    'packaged[].volume',
    'packaged[].temperature',
    'packaged[].sugar',
    'packaged[].bottles',
  ],
  tasted: ['tasted[].on', 'tasted[].score', 'tasted[].note'],
  abandoned: ['abandoned.on', 'abandoned.why'],
};

/** Found out when the sheet is full, or by few. */
const IN_THE_FORM_ALONE = ['fermented_out', 'packaged[].burst'];

const mashed: Batch = {
  ...batch,
  recipe: {
    ...batch.recipe,
    mash: {
      temperature_C: { value: 66 as never, u: null, written: '66 °C' },
      time_min: { value: 60 as never, u: null, written: '60 min' },
      ratio_L_per_kg: { value: 3 as never, u: null, written: '3 L/kg' },
    },
  },
};

describe('blanks', () => {
  it('stand for every key of the readings, and for nothing else', () => {
    const patterns = (fields: readonly Field[]) =>
      [...new Set(fields.map(({ key }) => key.replace(/\[\d+\]/, '[]')))].sort();
    const printed = Object.values(READINGS).flat();
    expect(patterns(sheetFields(mashed, 'metric'))).toEqual(printed.toSorted());
    expect(patterns(formFields(mashed, 'metric'))).toEqual([...printed, ...IN_THE_FORM_ALONE].sort());
  });

  it('are counted through within each block', () => {
    const fields = sheetFields(batch, 'metric');
    for (const letter of new Set(fields.map((field) => field.id.charAt(0)))) {
      const block = fields.filter((field) => field.id.startsWith(letter));
      expect(block.map((field) => field.id)).toEqual(block.map((_, index) => `${letter}${index + 1}`));
    }
  });

  it('leave out what the recipe has not', () => {
    const without: Batch = { ...batch, recipe: { ...batch.recipe, steep: null } };
    const keys = sheetFields(without, 'metric').map((field) => field.key);
    expect(keys.filter((key) => key.startsWith('steep') || key.startsWith('mash'))).toEqual([]);
  });

  it('stand on the sheets in the order in which they are keyed in, each once', () => {
    const kettleFields = (of: Batch): readonly FieldView[] => {
      const { stove, after, together } = kettleSheet(of, plan, brewery);
      return [...stove, ...after, ...together.flat()].flatMap((block) =>
        'fields' in block ? block.fields : [],
      );
    };
    const kettle = kettleFields(mashed);
    const cellar = cellarSheet(mashed, plan, { units: 'metric', language: 'en' });
    const onPaper = [
      ...kettle,
      ...cellar.log.flat(),
      ...cellar.finishedFields,
      ...cellar.packaging.flatMap((pack) => pack.fields),
      ...cellar.tasting,
      ...cellar.abandoned,
    ];
    const expected = sheetFields(mashed, 'metric').map((field) => field.id);
    // The fixture's timetable has no mash: its blanks are placed at the end of the stage.
    expect([...onPaper.map((field) => field.id)].sort()).toEqual([...expected].sort());
    const plainKettle = kettleFields(batch);
    const keyed = sheetFields(batch, 'metric').filter((field) => field.sheet === 'kettle');
    expect(plainKettle.map((field) => field.id)).toEqual(keyed.map((field) => field.id));
  });
});
