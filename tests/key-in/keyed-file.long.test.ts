/** What the form without a server has made, put into a batch file that may say other things by now. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { changesOf } from '../../lib/key-in/changes.ts';
import { keyedFile, mergeKeyed, readKeyedFile, rowsNeeded } from '../../lib/key-in/file.ts';
import { blanksOf, type Raw } from '../../lib/key-in/key-in.ts';
import { readingsLines } from '../../lib/key-in/lines.ts';
import { beginSession, readKit } from '../../lib/site/key-in/session.ts';

const begun = beginSession(await readKit('content'), 'twelfth-night-old');
if (!begun.ok) throw new Error(begun.why);
const { batch } = begun.session;

type Keyed = Readonly<Record<string, string>>;

const blanksFor = (readings: Raw, least?: number) => blanksOf(batch, { readings }, 'metric', least);

/** What the readings of a file are after some answers. */
function saying(readings: Raw, keyed: Keyed, least?: number): Raw {
  const blanks = blanksFor(readings, least);
  const answers = new Map(blanks.map(({ key, now }) => [key, keyed[key] ?? now]));
  const lines = readingsLines({ readings }, blanks, changesOf({ readings }, blanks, answers));
  return lines === '' ? {} : parse(lines, { schema: 'failsafe' }).readings;
}

/** Keys in on a form that was made when the file said `then`, and puts it into the file as it is `now`. */
function merge(then: Raw, keyed: Keyed, now: Raw) {
  const file = readKeyedFile(keyedFile(batch.slug, blanksFor(then), new Map(Object.entries(keyed))));
  if ('fault' in file) throw new Error(file.fault);
  const raw = { readings: now };
  const least = rowsNeeded(file, raw);
  const { given, collisions, unknown } = mergeKeyed(file, blanksFor(now, least), raw);
  return {
    left: saying(now, Object.fromEntries(given), least),
    collisions: collisions.map(({ blank, keyed: text, was }) => `${blank.key}: ${was} ${blank.now} ${text}`),
    unknown,
  };
}

const row = (on: string, gravity: string) => ({ on, gravity });

describe('a file of readings', () => {
  it('names the batch, what was keyed in, and what the file said before', () => {
    const then = {
      original_gravity: '1.044',
      chilled: { at: '16:40' },
      fermentation: [row('2027-01-12', '1.040')],
    };
    const keyed = {
      original_gravity: '1.049 @ 24 °C',
      'chilled.at': '',
      'top_up.volume': 'not taken',
      'fermentation[0].gravity': '1.041',
    };
    expect(keyedFile('a', blanksFor(then), new Map(Object.entries(keyed))).split('\n')).toEqual([
      'batch = a',
      'was chilled.at = 16:40',
      'chilled.at = ',
      'was top_up.volume = ',
      'top_up.volume = not taken',
      'was original_gravity = 1.044',
      'original_gravity = 1.049 @ 24 °C',
      'was fermentation[0].on = 2027-01-12',
      'was fermentation[0].gravity = 1.040',
      'fermentation[0].gravity = 1.041',
      '',
    ]);
  });
});

describe('put into a file that has changed since the form was made', () => {
  it('never writes over what was keyed in meanwhile', () => {
    const now = { original_gravity: '1.047', boil_started: '14:50' };
    expect(merge({}, { original_gravity: '1.049', boil_ended: '15:50' }, now)).toEqual({
      left: { ...now, boil_ended: '15:50' },
      collisions: ['original_gravity:  1.047 1.049'],
      unknown: [],
    });
    expect(merge({ original_gravity: '1.044' }, { original_gravity: '1.049' }, {}).collisions).toEqual([
      'original_gravity: 1.044  1.049',
    ]);
  });

  it('has nothing to add where it says so already, also after the second time', () => {
    const keyed = {
      original_gravity: '1.049',
      'fermentation[0].on': '2027-01-12',
      'fermentation[0].gravity': '1.04',
    };
    const once = merge({}, keyed, {}).left;
    expect(merge({}, keyed, once)).toEqual({ left: once, collisions: [], unknown: [] });
  });

  it('adds its new rows below those that have come in, however many', () => {
    const then = { fermentation: [row('2027-01-12', '1.040')] };
    const keyed = Object.fromEntries(
      [1, 2, 3, 4, 5, 6, 7].flatMap((i) => [
        [`fermentation[${i}].on`, `2027-01-2${i}`],
        [`fermentation[${i}].gravity`, `1.01${i}`],
      ]),
    );
    const now = {
      fermentation: [row('2027-01-12', '1.040'), row('2027-01-13', '1.038'), row('2027-01-14', '1.036')],
    };
    const { left, collisions } = merge(then, keyed, now);
    expect(collisions).toEqual([]);
    expect(left.fermentation).toEqual([
      ...now.fermentation,
      ...[1, 2, 3, 4, 5, 6, 7].map((i) => row(`2027-01-2${i}`, `1.01${i}`)),
    ]);
  });

  it('finds a row that was corrected by its day, and no other where it is gone', () => {
    const then = { fermentation: [row('2027-01-12', '1.040'), row('2027-01-14', '1.036')] };
    const now = { fermentation: [row('2027-01-10', '1.050'), ...then.fermentation] };
    const keyed = { 'fermentation[1].gravity': '1.035', 'fermentation[1].temperature': '19 °C' };
    expect(merge(then, keyed, now).left.fermentation).toEqual([
      now.fermentation[0],
      now.fermentation[1],
      { ...row('2027-01-14', '1.035'), temperature: '19 °C' },
    ]);
    const gone = { fermentation: [row('2027-01-10', '1.050'), row('2027-01-12', '1.040')] };
    expect(merge(then, keyed, gone)).toEqual({
      left: gone,
      collisions: [],
      unknown: ['fermentation[1].gravity', 'fermentation[1].temperature'],
    });
  });

  it('loses neither side, whatever both have keyed in', () => {
    const keys = [
      'boil_started',
      'boil_ended',
      'original_gravity',
      'fermenter_volume',
      'chilled.at',
      'top_up.volume',
    ];
    const VALUES = ['', 'a', 'b', 'not taken'];
    const side = fc.dictionary(fc.constantFrom(...keys), fc.constantFrom(...VALUES), {
      maxKeys: keys.length,
    });
    const says = (readings: Raw, key: string) =>
      blanksFor(readings).find((each) => each.key === key)?.now ?? '';
    let met = 0;
    fc.assert(
      fc.property(side, side, side, (start, mine, theirs) => {
        const then = saying({}, start);
        const now = saying(then, theirs);
        const { left, collisions } = merge(then, mine, now);
        const collided = new Set(collisions.map((text) => text.split(':')[0]));
        met += collided.size;
        for (const key of keys) {
          const [was, is] = [says(then, key), says(now, key)];
          const wanted = mine[key] ?? was;
          // Whoever changed it alone has it; where both did, differently, the file keeps its own and it is told.
          if (wanted === was || wanted === is) expect([key, says(left, key)]).toEqual([key, is]);
          else if (is === was) expect([key, says(left, key)]).toEqual([key, wanted]);
          else expect([key, says(left, key), collided.has(key)]).toEqual([key, is, true]);
        }
      }),
      { numRuns: 300 },
    );
    expect(met).toBeGreaterThan(50);
  });
});
