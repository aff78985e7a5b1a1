import { chmodSync, cpSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBatch } from '../../lib/archive/open-batch.ts';
import { keyedFile, readKeyedFile } from '../../lib/key-in/file.ts';
import { beginSession, readKit, saveKeyed } from '../../lib/site/key-in/session.ts';
import { type Ran, run } from '../commands/run.ts';
import { type Kitchen, kitchen } from './serving.ts';

const ROOT = join(import.meta.dirname, '../..');
const SLUG = 'twelfth-night-old';
let room: Kitchen;
let us: Kitchen;

beforeAll(() => {
  room = kitchen([SLUG, 'stoppage-kit', 'november-fog-porter']);
  us = kitchen([]);
  for (const name of ['brewery.yaml', 'setups.yaml', 'batches/porch-amber.md'])
    cpSync(join(ROOT, 'tests/archive/strained/us-units', name), join(us.content, name));
});
afterAll(() => {
  room.remove();
  us.remove();
});

const keyIn = (...args: readonly string[]): Promise<Ran> =>
  run('key-in', ['--content', room.content, ...args]);

/** What a brewer types, line by line. */
const typing = (slug: string, lines: readonly string[], ...args: readonly string[]): Promise<Ran> =>
  run('key-in', ['--content', room.content, slug, ...args], {}, lines.map((line) => `${line}\n`).join(''));

/** Lines of a file that another does not have. */
const added = (after: string, before: string): string[] =>
  after.split('\n').filter((line) => !before.split('\n').includes(line));

describe('npm run key-in', () => {
  it('asks in the order of the paper, may be stopped, and goes on where it stopped', async () => {
    const before = room.text(SLUG);
    const first = await typing(SLUG, ['1320', '-', '66', 'q']);
    expect([first.code, first.err]).toEqual([0, '']);
    expect(first.out.indexOf('A1 ')).toBeLessThan(first.out.indexOf('A2 '));
    expect(added(room.text(SLUG), before)).toEqual([
      'readings:',
      '  heating_started: 13:20',
      '  steep_in: not taken',
      '  steep_temperature: 66 °C',
    ]);
    const second = await typing(SLUG, ['13:50', 'n o n s e n s e', '1430', 'q']);
    expect(second.out).not.toContain('A1 ');
    expect(second.out).toContain('will not do');
    expect(added(room.text(SLUG), before)).toContain('  boil_started: 14:30');
    room.write(SLUG, before);
  });

  it('sees an editor that saves an older text right behind a reading', async () => {
    const before = room.text(SLUG);
    const begun = beginSession(await readKit(room.content), SLUG);
    if (!begun.ok) throw new Error(begun.why);
    const { blanks } = begun.session;
    const keyed = readKeyedFile(
      keyedFile(
        SLUG,
        blanks,
        new Map([
          ['boil_started', '1430'],
          ['original_gravity', '1,044 @24C'],
        ]),
      ),
    );
    if ('fault' in keyed) throw new Error(keyed.fault);
    const saved = await saveKeyed(begun.session, keyed, (content, slug) => {
      expect(room.text(SLUG)).toContain('boil_started: 14:30');
      room.write(SLUG, before);
      return openBatch(content, slug);
    });
    expect(saved.kind).toBe('clash');
    // One that adds a note to what was saved takes nothing out.
    const noted = await saveKeyed(begun.session, keyed, (content, slug) => {
      room.write(SLUG, `${room.text(SLUG)}\nA note.\n`);
      return openBatch(content, slug);
    });
    expect(noted.kind).toBe('saved');
    // What was taken out comes back with the older text.
    const again = beginSession(await readKit(room.content), SLUG);
    const out = readKeyedFile(`batch = ${SLUG}\nwas boil_started = 14:30\nboil_started =\n`);
    if (!again.ok || 'fault' in out) throw new Error();
    const withBoth = room.text(SLUG);
    const taken = await saveKeyed(again.session, out, (content, slug) => {
      expect(room.text(SLUG)).not.toContain('boil_started');
      room.write(SLUG, withBoth);
      return openBatch(content, slug);
    });
    expect(taken.kind).toBe('clash');
    room.write(SLUG, before);
  });

  it('takes out of the file what two hyphens stand for', async () => {
    const before = room.text(SLUG);
    await typing(SLUG, ['1320', '-', '66', 'q']);
    await typing(SLUG, ['--', '', '--', 'q'], '--all');
    expect(added(room.text(SLUG), before)).toEqual(['readings:', '  steep_in: not taken']);
    room.write(SLUG, before);
  });

  it('asks again about what is unlikely, and keeps a row until its day is known', async () => {
    const before = room.text(SLUG);
    const said = await typing(SLUG, [...Array(60).fill(''), 'q']);
    expect(said.out).toContain('Poured away on');
    expect(room.text(SLUG)).toBe(before);
    const doubted = await typing(SLUG, ['1320', '1100', 'n', '1340', 'q']);
    expect(doubted.out).toContain('Is it what the paper says?');
    expect(added(room.text(SLUG), before)).toContain('  steep_in: 13:40');
    room.write(SLUG, before);
  });

  it('takes readings from a script, all or none', async () => {
    const before = room.text(SLUG);
    const none = await keyIn(SLUG, '--set', 'boil_started=14:50', '--set', 'original_gravity=1084');
    expect([none.code, none.out.includes('write "1.084"'), room.text(SLUG) === before]).toEqual([
      1,
      true,
      true,
    ]);
    const unlikely = await keyIn(SLUG, '--set', 'original_gravity=1.030');
    expect([unlikely.code, unlikely.out.includes('--sure')]).toEqual([1, true]);
    const all = await keyIn(SLUG, '--set', 'boil_started=14:50', '--set', 'D2=1.084 @ 24 °C');
    expect([all.code, all.err]).toEqual([0, '']);
    expect(all.out).toMatch(/D2 Original gravity: 1\.084.@.24.°C; 1\.085 at 20.°C; (fine|a little off|off)/);
    expect((await keyIn(SLUG, '--set', 'nothing=1')).code).toBe(2);
    expect((await keyIn('nowhere', '--set', 'boil_started=14:50')).code).toBe(2);
    room.write(SLUG, before);
  });

  it('takes a reading out that is set to nothing, and every byte is as it was before', async () => {
    const before = room.text(SLUG);
    await keyIn(SLUG, '--set', 'chilled.at=16:40', '--set', 'D2=1.084 @ 24 °C');
    const changed = await keyIn(SLUG, '--set', 'original_gravity=1.083', '--set', 'chilled.at=');
    expect(changed.out).toMatch(/C1 Chilled at: taken out: 16:40\n/);
    expect(changed.out).toMatch(/D2 Original gravity: 1\.083; in place of 1\.084.@.24.°C;/);
    expect(added(room.text(SLUG), before)).toEqual(['readings:', '  original_gravity: 1.083']);
    expect((await keyIn(SLUG, '--set', 'original_gravity=')).code).toBe(0);
    expect(room.text(SLUG)).toBe(before);
  });
});

describe('hard cases', () => {
  it.each([
    ['a reading at 60 °C', 'original_gravity=1.075 @ 60 °C', 'original_gravity: 1.075 @ 60 °C'],
    ['a refractometer', 'original_gravity=20,5 Bx', 'original_gravity: 20.5 Bx'],
    ['gravity below 1.000', 'final_gravity=0.998 @ 20', 'final_gravity: 0.998 @ 20 °C'],
    ['other units than the recipe', 'fermenter_volume=3 us gal', 'fermenter_volume: 3 us gal'],
    ['degrees Fahrenheit', 'pitched.on=9 Jan 2027 2340', 'pitched: { on: 2027-01-09 23:40 }'],
  ])('%s', async (_, set, expected) => {
    const before = room.text(SLUG);
    const ran = await keyIn(SLUG, '--set', set, '--sure');
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(added(room.text(SLUG), before)).toEqual(['readings:', `  ${expected}`]);
    room.write(SLUG, before);
  });

  it('does not write over a write-protected file, and says so', async () => {
    const before = room.text(SLUG);
    chmodSync(room.batch(SLUG), 0o444);
    const ran = await keyIn(SLUG, '--set', 'boil_started=14:50');
    expect([ran.code, ran.err, ran.out]).toEqual([1, '', expect.stringContaining('write-protected')]);
    expect([room.text(SLUG), statSync(room.batch(SLUG)).mode & 0o777]).toEqual([before, 0o444]);
    chmodSync(room.batch(SLUG), 0o644);
  });

  it('a brewer in US units is asked in them', async () => {
    const ran = await run('key-in', [
      '--content',
      us.content,
      'porch-amber',
      '--set',
      'steep_temperature=200',
      '--sure',
    ]);
    expect([ran.code, /200.°F/.test(ran.out)]).toEqual([0, true]);
    const wrong = await run('key-in', [
      '--content',
      us.content,
      'porch-amber',
      '--set',
      'steep_temperature=300 F',
    ]);
    expect(wrong.out).toMatch(/°F/);
    expect(wrong.out).not.toMatch(/°C/);
  });

  it('a morning in the log, by a clock of twelve hours, comes into the file by hand and from a file', async () => {
    const on = (...more: readonly string[]) =>
      run('key-in', ['--content', us.content, 'porch-amber', '--sure', ...more]);
    const byHand = await on('--set', 'fermentation[next].on=5 Oct 2026 8:15 am');
    expect([byHand.code, byHand.out]).toEqual([0, expect.stringContaining('8:15\u00a0am')]);
    const file = join(us.dir, 'readings.txt');
    writeFileSync(file, 'batch = porch-amber\nfermentation[1].on = 2026-10-06 10:05\n');
    expect([(await on('--file', file)).code, us.text('porch-amber')]).toEqual([
      0,
      expect.stringContaining('- { on: 2026-10-05 08:15 }\n    - { on: 2026-10-06 10:05 }'),
    ]);
    // Beside a file, what is set by hand is asked about all the same.
    writeFileSync(file, 'batch = porch-amber\nfermentation[2].on = 2026-10-07 10:05\n');
    const both = await on('--file', file, '--set', 'tasted[next].on=8 Nov 2026 10:15');
    expect([both.code, both.out]).toEqual([1, expect.stringMatching(/10:15 am.*10:15 pm/)]);
    expect(us.text('porch-amber')).not.toContain('2026-10-07');
  });
});
