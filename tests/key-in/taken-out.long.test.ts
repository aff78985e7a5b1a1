/** What was keyed in and is emptied again. */
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editReadings } from '../../lib/archive/write/edit-readings.ts';
import { changesOf } from '../../lib/key-in/changes.ts';
import { blanksOf, type Raw } from '../../lib/key-in/key-in.ts';
import { readingsLines } from '../../lib/key-in/lines.ts';
import { beginSession, readKit, type Session } from '../../lib/site/key-in/session.ts';

const kit = await readKit('content');
const slugs = readdirSync('content/batches').map((name) => name.replace(/\.md$/, ''));

function opened(slug: string): Session {
  const begun = beginSession(kit, slug);
  if (!begun.ok) throw new Error(begun.why);
  return begun.session;
}

const readingsIn = (text: string): unknown =>
  parse(/^---\n([\s\S]*?\n)---/.exec(text)?.[1] ?? '', { schema: 'failsafe' }).readings;

describe('a batch whose every blank is emptied', () => {
  it.each(slugs)('%s: has no readings left', (slug) => {
    const { raw, blanks, file } = opened(slug);
    const answers = new Map(blanks.map(({ key }) => [key, '']));
    const changes = changesOf(raw, blanks, answers);
    const edited = editReadings(file.text, changes);
    expect(edited.ok && readingsIn(edited.text)).toBeUndefined();
    // The lines of the form without a server say the same.
    expect(readingsLines(raw, blanks, changes)).toBe('');
  });
});

/** A batch of the demo as if its file had these readings. */
function changesFor(readings: Raw, keyed: Readonly<Record<string, string>>) {
  const { batch } = opened('twelfth-night-old');
  const raw = { readings };
  const blanks = blanksOf(batch, raw, 'metric');
  const answers = new Map(blanks.map(({ key, now }) => [key, keyed[key] ?? now]));
  const changes = changesOf(raw, blanks, answers);
  const lines = readingsLines(raw, blanks, changes);
  return {
    changes: changes.map(({ path, value }) => `${path.join('.')} = ${value}`),
    left: lines === '' ? {} : parse(lines, { schema: 'failsafe' }).readings,
  };
}

describe('emptied', () => {
  it('the clock time of an addition takes the addition with it, which says nothing without one', () => {
    const { batch } = opened('twelfth-night-old');
    const [first, second] = blanksOf(batch, {}, 'metric').filter(({ key }) => key.startsWith('additions['));
    if (!first || !second) throw new Error('the batch has two additions');
    const additions = [
      { at: second.at, clock: '15:42' },
      { at: first.at, clock: '14:50' },
    ];
    expect(changesFor({ additions }, { [first.key]: '' })).toEqual({
      changes: ['additions.1 = null'],
      left: { additions: [{ at: second.at, clock: '15:42' }] },
    });
    const words = changesFor({ additions: 'not taken' }, { [first.key]: '' }).left.additions;
    expect(words).not.toContainEqual({ at: first.at, clock: 'not taken' });
    expect(words).toContainEqual({ at: second.at, clock: 'not taken' });
  });

  it('a row of the log goes whole, and the rows below it move up', () => {
    const fermentation = [
      { on: '2027-01-12', gravity: '1.040' },
      { on: '2027-01-14', gravity: '1.030', note: '' },
      { on: '2027-01-16', gravity: '1.020' },
    ];
    const keyed = {
      'fermentation[1].on': '',
      'fermentation[1].gravity': '',
      'fermentation[3].on': '2027-01-18',
    };
    expect(changesFor({ fermentation }, keyed)).toEqual({
      changes: ['fermentation.1 = null', 'fermentation.3.on = 2027-01-18'],
      left: { fermentation: [fermentation[0], fermentation[2], { on: '2027-01-18' }] },
    });
  });
});
