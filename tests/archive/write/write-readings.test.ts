import {
  linkSync,
  lstatSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hashOf } from '../../../lib/archive/open-batch.ts';
import { besideOf } from '../../../lib/archive/write/sibling-path.ts';
import { type Written, writeReadings } from '../../../lib/archive/write/write-readings.ts';
import { type Kit, readKit } from '../../../lib/site/key-in/session.ts';
import { type Kitchen, kitchen } from '../../key-in/serving.ts';

const SLUG = 'twelfth-night-old';
let room: Kitchen;
let kit: Kit;
beforeEach(async () => {
  room = kitchen([SLUG]);
  kit = await readKit(room.content);
});
afterEach(() => room.remove());

const bytes = () => readFileSync(room.batch(SLUG));
const put = (value: string, hash: string | null = null, path = ['boil_started']): Promise<Written> =>
  writeReadings({
    contentDir: room.content,
    slug: SLUG,
    around: kit.around,
    hash,
    changes: () => [{ path, value }],
  });

describe('a written file', () => {
  it.each([
    ['', '\n'],
    ['\ufeff', '\n'],
    ['', '\r\n'],
    ['\ufeff', '\r\n'],
  ])('keeps its byte order mark %j and its line ends %j', async (mark, end) => {
    const old = mark + room.text(SLUG).replaceAll('\n', end);
    room.write(SLUG, old);
    expect((await put('14:50')).kind).toBe('written');
    const added = `readings:${end}  boil_started: 14:50${end}`;
    expect(bytes().toString('utf8')).toBe(
      old.replace(new RegExp(`${end}---${end}(?!title)`), `${end}${added}---${end}`),
    );
  });

  it('keeps its rights, and the version before beside it, which no archive takes for a batch', async () => {
    const old = bytes();
    const mode = lstatSync(room.batch(SLUG)).mode;
    await put('14:50');
    await put('14:51');
    const [kept] = readdirSync(dirname(room.batch(SLUG))).filter((name) => name.endsWith('.before'));
    expect(kept).toBe(`.${SLUG}.md.before`);
    expect(readFileSync(join(dirname(room.batch(SLUG)), kept ?? ''), 'utf8')).toContain(
      'boil_started: 14:50',
    );
    expect(bytes().toString()).toContain('boil_started: 14:51');
    expect(lstatSync(room.batch(SLUG)).mode).toBe(mode);
    expect((await readKit(room.content)).around.setups.size).toBeGreaterThan(0);
    expect(old.toString()).not.toContain('boil_started');
  });

  it('is not written where it says so already, or has changed since it was opened', async () => {
    const opened = hashOf(bytes());
    await put('14:50', opened);
    expect((await put('14:55', opened)).kind).toBe('changed since');
    expect(bytes().toString()).toContain('boil_started: 14:50');
  });

  it.each([
    ['14:75', ['boil_started']],
    ['1.048', ['pitched', 'temperature']],
    ['x', ['no_such_key']],
  ])('is not written with %j under %j', async (value, path) => {
    const old = bytes();
    const written = await put(value, null, path);
    expect(written.kind).toBe('problems');
    expect(bytes()).toEqual(old);
  });
});

describe('links', () => {
  it('that lead out of the content folder are not followed, and inside it to the file itself', async () => {
    const outside = join(room.dir, 'outside.md');
    const text = room.text(SLUG);
    writeFileSync(outside, text);
    unlinkSync(room.batch(SLUG));
    symlinkSync(outside, room.batch(SLUG));
    expect(await put('14:50')).toMatchObject({ kind: 'refused' });
    expect(readFileSync(outside, 'utf8')).toBe(text);
    unlinkSync(room.batch(SLUG));
    const inside = join(room.content, 'elsewhere.md');
    writeFileSync(inside, text);
    symlinkSync(inside, room.batch(SLUG));
    expect((await put('14:50')).kind).toBe('written');
    expect(lstatSync(room.batch(SLUG)).isSymbolicLink()).toBe(true);
    expect(readFileSync(inside, 'utf8')).toContain('boil_started: 14:50');
  });

  it('to the same bytes elsewhere are cut, not written through', async () => {
    const other = join(room.dir, 'other.md');
    const text = room.text(SLUG);
    linkSync(room.batch(SLUG), other);
    await put('14:50');
    expect(readFileSync(other, 'utf8')).toBe(text);
  });
});

describe('many writers', () => {
  it('at once lose nothing', async () => {
    const keys = ['heating_started', 'steep_in', 'steep_out', 'boil_started', 'boil_ended'];
    const all = await Promise.all(keys.map((key, i) => put(`1${i}:00`, null, [key])));
    expect(all.map(({ kind }) => kind)).toEqual(keys.map(() => 'written'));
    for (const [i, key] of keys.entries()) expect(room.text(SLUG)).toContain(`  ${key}: 1${i}:00\n`);
  });

  it('are not kept waiting for ever by one that was killed', async () => {
    const lock = besideOf(room.batch(SLUG), 'lock');
    writeFileSync(lock, '');
    const longAgo = new Date(Date.now() - 60_000);
    utimesSync(lock, longAgo, longAgo);
    expect((await put('14:50')).kind).toBe('written');
  });
});
