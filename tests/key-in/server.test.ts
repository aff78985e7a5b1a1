import { chmodSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { SaveReply } from '../../lib/browser/key-in/data.ts';
import { smallBatch } from '../commands/run.ts';
import { type Kitchen, keyed, kitchen, type Reply, type Served, serve, TOKEN } from './serving.ts';

const SLUG = 'twelfth-night-old';
const PAGE = `/batches/${SLUG}/key-in/`;

let room: Kitchen;
let served: Served;
let untouched: string;

beforeAll(async () => {
  room = kitchen([SLUG, 'november-fog-porter', 'cousins-porter']);
  untouched = room.text(SLUG);
  served = await serve(room.content);
});
beforeEach(() => room.write(SLUG, untouched));
afterAll(async () => {
  await served.close();
  room.remove();
});

type Texts = Readonly<Record<string, string>>;

const readings = (slug = SLUG): Record<string, unknown> =>
  parse(/^---\n([\s\S]*?\n)---/.exec(room.text(slug))?.[1] ?? '', { schema: 'failsafe' }).readings ?? {};
const save = (texts: Texts, was: Texts = {}, slug = SLUG): Promise<Reply> =>
  served.post(`/batches/${slug}/key-in/`, keyed(slug, texts, was));
const said = ({ body }: Reply): SaveReply => JSON.parse(body);
/** What a reply says of the readings that it has saved. */
const meaning = (reply: Reply): string => {
  const answer = said(reply);
  if (answer.kind !== 'saved') throw new Error(reply.body);
  return answer.lines
    .map(({ verdict }) => verdict)
    .join(' ')
    .replaceAll('\u00a0', ' ');
};

describe('what is saved', () => {
  it('is in the file, told with what it means, and the version before is kept', async () => {
    const reply = await save({
      heating_started: '13:20',
      'chilled.at': 'not taken',
      'chilled.temperature': 'not taken',
      original_gravity: '1.084 @ 24 °C',
    });
    expect(reply.status).toBe(200);
    expect(said(reply)).toMatchObject({
      kind: 'saved',
      lines: [
        { id: 'A1', label: 'Kettle on', text: '13:20' },
        { id: 'C1', text: expect.stringMatching(/^not\staken$/) },
        { id: 'C2', text: expect.stringMatching(/^not\staken$/) },
        { id: 'D2', corrected: '1.085 at 20\u00a0°C', verdict: expect.stringMatching(/off|fine/) },
      ],
      data: { raw: { readings: { heating_started: '13:20' } } },
    });
    expect(readings()).toEqual({
      heating_started: '13:20',
      chilled: 'not taken',
      original_gravity: '1.084 @ 24 °C',
    });
    expect(readFileSync(join(room.content, `batches/.${SLUG}.md.before`), 'utf8')).toBe(untouched);
  });

  it('is not where the file is write-protected, and the reply says so', async () => {
    chmodSync(room.batch(SLUG), 0o444);
    const reply = await save({ boil_started: '14:50' });
    chmodSync(room.batch(SLUG), 0o644);
    expect([reply.status, reply.body]).toEqual([422, expect.stringContaining('write-protected')]);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it('and emptied again leaves the bytes that were there before', async () => {
    const texts = { heating_started: '13:20', original_gravity: '1.084 @ 24 °C', 'chilled.at': '16:40' };
    await save(texts);
    const reply = await save({ heating_started: '', original_gravity: '', 'chilled.at': '' }, texts);
    expect(said(reply)).toMatchObject({
      lines: [{ id: 'A1' }, { id: 'C1' }, { id: 'D2', text: expect.stringMatching(/^taken out: 1\.084/) }],
    });
    expect(room.text(SLUG)).toBe(untouched);
  });

  it('may be a night: past midnight, in the brewer’s own units, Brix, part kegged and part bottled', async () => {
    const package_ = /^ {2}package: \{ (.*)$/m.exec(untouched);
    const divided = untouched.replace(
      package_?.[0] ?? '',
      `  package:\n    - { volume: 6 L, ${package_?.[1]}\n    - { into: keg, volume: 5 L, carbonation: 2.4 vol, temperature: 6 °C }`,
    );
    room.write(SLUG, divided);
    const reply = await save({
      boil_started: '21:10',
      boil_start_volume: '3 us gal',
      'additions[flameout].clock': '22:26',
      boil_ended: '22:25',
      'chilled.at': '00:10',
      original_gravity: '20.2 Bx',
      'pitched.on': '2027-01-10 00:40',
      'packaged[0].on': '2027-02-05',
      'packaged[0].bottles': '18',
      'packaged[1].on': '2027-02-05',
      'packaged[1].temperature': 'not taken',
    });
    expect([reply.status, said(reply).kind]).toEqual([200, 'saved']);
    expect(readings()).toEqual({
      boil_started: '21:10',
      boil_start_volume: '3 us gal',
      additions: [{ at: 'flameout', clock: '22:26' }],
      boil_ended: '22:25',
      chilled: { at: '00:10' },
      original_gravity: '20.2 Bx',
      pitched: { on: '2027-01-10 00:40' },
      packaged: [
        { on: '2027-02-05', into: 'bottles', bottles: '18' },
        { on: '2027-02-05', into: 'keg', temperature: 'not taken' },
      ],
    });
  });

  it.each<[string, Texts, string]>([
    ['impossible', { 'pitched.temperature': '90 °C' }, 'a temperature from -5 °C to 60 °C'],
    ['a row without its day', { 'fermentation[0].gravity': '1.020' }, 'the day'],
    ['given up without a reason', { 'abandoned.on': '2027-01-20' }, 'say why it was given up'],
  ])('is nothing where something is %s', async (_, texts, why) => {
    const reply = await save({ boil_started: '14:50', ...texts });
    expect([reply.status, reply.body.toLowerCase()]).toEqual([
      422,
      expect.stringContaining(why.toLowerCase()),
    ]);
    expect(room.text(SLUG)).toBe(untouched);
  });
});

describe('wort that is too warm for the yeast', () => {
  const day = { 'chilled.temperature': '40 °C', 'chilled.at': '17:10', original_gravity: '1.084' };
  const pitched = { 'pitched.on': '2027-01-09 17:30', 'pitched.temperature': '24 °C' };
  const advice = 'Wait with the yeast: cool it to 18 °C';

  it('is to be cooled as long as the yeast is not in, and where it is more than a few degrees', async () => {
    expect(meaning(await save(day))).toContain(advice);
    room.write(SLUG, untouched);
    expect(meaning(await save({ ...day, ...pitched }))).not.toContain('Wait with the yeast');
    room.write(SLUG, untouched);
    expect(meaning(await save({ ...day, 'chilled.temperature': '22 °C' }))).not.toContain(
      'Wait with the yeast',
    );
  });
});

describe('nothing is written', () => {
  const good = keyed(SLUG, { boil_started: '14:50' });

  it('but for this very request, which is a good one', async () => {
    expect((await served.post(PAGE, good)).status).toBe(200);
    expect(readings()).toEqual({ boil_started: '14:50' });
  });

  it.each([
    ['a page of another site', { origin: 'https://example.org' }],
    ['a page of another port', { origin: 'http://localhost:1' }],
    ['a page without an origin of its own', { origin: 'null' }],
    ['no page at all', { origin: null }],
    ['another site that says nothing of its origin', { origin: null, 'sec-fetch-site': 'cross-site' }],
    ['another port of this computer', { 'sec-fetch-site': 'same-site' }],
  ])('by %s', async (_, headers) => {
    expect((await served.post(PAGE, good, headers)).status).toBe(403);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it.each([
    'attacker.example',
    'attacker.example:80',
    'localhost.attacker.example',
    '127.0.0.1.attacker.example',
    '192.168.1.10',
  ])('under a name that was bent to point here, %j', async (host) => {
    const headers = { host, origin: `http://${host}` };
    expect((await served.post(PAGE, good, headers)).status).toBe(403);
    expect((await served.get(PAGE, { host })).status).toBe(403);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it.each([null, 'kettleside-code=', 'kettleside-code=k7pm-2xqd-9rtd', 'other=k7pm-2xqd-9rtc'])(
    'without the code, with the cookie %j',
    async (cookie) => {
      const reply = await served.post(PAGE, good, { cookie });
      expect([reply.status, said(reply).kind]).toEqual([403, 'refused']);
      expect(room.text(SLUG)).toBe(untouched);
    },
  );

  it.each([
    ['no readings', '{}', 422],
    ['readings of another batch', keyed('november-fog-porter', { boil_started: '14:50' }), 422],
    ['no lines', 'boil_started 14:50', 422],
    ['readings that there is no blank for', keyed(SLUG, { boil_stopped: '14:50' }), 409],
  ])('from %s', async (_, body, status) => {
    expect((await served.post(PAGE, body)).status).toBe(status);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it('from another kind of body', async () => {
    for (const type of ['text/plain', 'application/json'])
      expect((await served.post(PAGE, good, { 'content-type': type })).status).toBe(415);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it.each([
    '..%2f..%2fbatches%2ftwelfth-night-old',
    '%2e%2e%2fbrewery',
    '..%5c..%5cbrewery',
    'twelfth-night-old%00',
    'twelfth-night-old.md',
    'Twelfth-Night-Old',
    '%E0%A4%A',
    'nowhere',
    'con',
  ])('for the slug %s', async (slug) => {
    const before = everythingBelow(room.dir);
    expect((await served.post(`/batches/${slug}/key-in/`, good)).status).toBe(404);
    expect(everythingBelow(room.dir)).toEqual(before);
  });

  it('through a link that leads out of the content folder', async () => {
    const outside = join(room.dir, 'outside.md');
    writeFileSync(outside, untouched);
    symlinkSync(outside, room.batch('linked'));
    const reply = await save({ boil_started: '14:50' }, {}, 'linked');
    expect([reply.status, reply.body]).toEqual([404, expect.stringContaining('a link that leads out')]);
    expect(readFileSync(outside, 'utf8')).toBe(untouched);
  });

  it('by a body of a million bytes, announced or not', async () => {
    const long = keyed(SLUG, { 'fermentation[0].note': 'x'.repeat(1_000_000) });
    const announced = await served.post(PAGE, long, { 'content-length': String(long.length) }).catch(hungUp);
    const chunked = await served.post(PAGE, long, { 'transfer-encoding': 'chunked' }).catch(hungUp);
    for (const status of [announced.status, chunked.status]) expect([413, 0]).toContain(status);
    expect(room.text(SLUG)).toBe(untouched);
    expect((await served.get(PAGE)).status).toBe(200);
  });
});

/** The server may close the line before a client has sent all that nobody wants. */
function hungUp(error: NodeJS.ErrnoException): { readonly status: number } {
  if (error.code !== 'ECONNRESET' && error.code !== 'EPIPE') throw error;
  return { status: 0 };
}

function everythingBelow(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
}

describe('the code', () => {
  it('is asked for, taken from a link once, and kept in a cookie that no script and no other site gets', async () => {
    const form = { cookie: '', 'content-type': 'application/x-www-form-urlencoded' };
    expect((await served.get(PAGE, { cookie: '' })).body).toContain('name="token"');
    const linked = await served.get(`${PAGE}?code=${TOKEN}`, { cookie: '' });
    expect([linked.status, linked.headers.location]).toEqual([303, PAGE]);
    expect(String(linked.headers['set-cookie'])).toMatch(/HttpOnly; SameSite=Strict/);
    expect((await served.get(`${PAGE}?code=nonsense`, { cookie: '' })).status).toBe(403);
    expect((await served.post(PAGE, 'token=K7PM+2XQD+9RTC', form)).status).toBe(303);
    const wrong = await served.post(PAGE, 'token=nonsense', form);
    expect([wrong.status, wrong.body]).toEqual([403, expect.stringContaining('not the code')]);
  });
});

describe('a file that others write to meanwhile', () => {
  it('is not written over: nothing is saved, and the form gets what the file says now', async () => {
    const theirs = untouched.replace(/---\n(?!title)/, 'readings:\n  original_gravity: 1.080\n---\n');
    room.write(SLUG, theirs);
    const reply = await save({ original_gravity: '1.084 @ 24 °C', boil_started: '14:50' });
    expect(reply.status).toBe(409);
    expect(said(reply)).toMatchObject({
      kind: 'changed',
      data: { raw: { readings: { original_gravity: '1.080' } } },
    });
    expect(room.text(SLUG)).toBe(theirs);
  });

  it('that has other rows by now gets new ones below them, and writes over none', async () => {
    const slug = 'race-of-two';
    const theirs = [
      '    - { on: 2026-02-20 08:00, gravity: 1.015 }',
      '    - { on: 2026-02-21 08:00, gravity: 1.013 }',
    ];
    room.write(slug, smallBatch('Two', ['brewed: 2026-02-14', 'readings:', '  fermentation:', ...theirs]));
    // When the form was opened there was one more row above, and the last was not there yet.
    const was = { 'fermentation[0].on': '2026-02-18 08:00', 'fermentation[1].on': '2026-02-20 08:00' };
    const ours = {
      'fermentation[1].note': 'quiet',
      'fermentation[2].on': '2026-03-02',
      'fermentation[2].note': 'b',
    };
    expect((await save(ours, was, slug)).status).toBe(200);
    expect(readings(slug).fermentation).toEqual([
      { on: '2026-02-20 08:00', gravity: '1.015', note: 'quiet' },
      { on: '2026-02-21 08:00', gravity: '1.013' },
      { on: '2026-03-02', note: 'b' },
    ]);
  });

  it('gets each of 30 rows that are sent at once, each once, and nothing else has changed', async () => {
    const slug = 'race';
    room.write(slug, smallBatch('Race', ['brewed: 2026-02-14', 'readings:', '  fermentation: # rows']));
    const before = room.text(slug);
    const clock = (i: number) =>
      `${String(Math.floor(i / 60) + 9).padStart(2, '0')}:${String(i % 60).padStart(2, '0')}`;
    const send = async (i: number): Promise<Reply> => {
      const row = { on: `2026-02-24 ${clock(i)}`, gravity: '1.014 @ 18 °C', note: `row ${i}` };
      const texts = Object.entries(row).map(([part, text]) => [`fermentation[0].${part}`, text] as const);
      const reply = await save(Object.fromEntries(texts), {}, slug);
      // On a busy machine a turn may last too long; whoever is told so saves once more.
      return reply.body.includes('Save once more') ? send(i) : reply;
    };
    const replies = await Promise.all(Array.from({ length: 30 }, (_, i) => send(i)));
    expect(new Set(replies.map(({ status }) => status))).toEqual(new Set([200]));
    const notes = (readings(slug).fermentation as readonly { readonly note: string }[]).map(
      ({ note }) => note,
    );
    expect([...notes].sort()).toEqual(Array.from({ length: 30 }, (_, i) => `row ${i}`).sort());
    const others = room
      .text(slug)
      .split('\n')
      .filter((line) => !/note: row \d+ }$/.test(line));
    expect(others.join('\n')).toBe(before);
    const left = readdirSync(join(room.content, 'batches')).filter((name) => /\.(tmp|lock)$/.test(name));
    expect(left).toEqual([]);
  });

  it('has a row once that is sent twice', async () => {
    const slug = 'november-fog-porter';
    const before = room.text(slug);
    const row = { 'fermentation[3].on': '2026-11-24 19:15', 'fermentation[3].gravity': '1.013' };
    const replies = await Promise.all([1, 2].map(() => save(row, {}, slug)));
    expect(replies.map(({ status }) => status)).toEqual([200, 200]);
    expect(room.text(slug).split('2026-11-24 19:15, gravity: 1.013').length).toBe(2);
    room.write(slug, before);
  });
});

describe('whatever is sent', () => {
  it('is answered, and leaves a file that can be read', async () => {
    const key = fc.oneof(
      fc.constantFrom(
        'original_gravity',
        'fermentation[9999].on',
        'additions[60 min].clock',
        '__proto__',
        'packaged.on',
      ),
      fc.constantFrom('was original_gravity', 'batch', 'tasted[0].on', 'pitched.yeast', 'constructor'),
      fc.string(),
    );
    const text = fc.oneof(
      fc.constantFrom(
        '1.050',
        'not taken',
        '=',
        '99',
        '-1',
        '1e9',
        '{}',
        'null',
        '\u0000',
        '2026-02-30',
        '25:99',
      ),
      fc.string({ unit: 'grapheme', maxLength: 40 }),
    );
    let ran = 0;
    await fc.assert(
      fc.asyncProperty(fc.dictionary(key, text, { maxKeys: 8 }), async (texts) => {
        ran++;
        room.write(SLUG, untouched);
        const reply = await save(texts);
        expect([200, 409, 422]).toContain(reply.status);
        expect(reply.body).not.toMatch(/NaN|Infinity|\[object/);
        if (reply.status !== 200) expect(room.text(SLUG)).toBe(untouched);
        expect((await served.get(PAGE)).status).toBe(200);
      }),
      { numRuns: 25 },
    );
    expect(ran).toBe(25);
  });
});

describe('the page', () => {
  it('of a batch with errors says so, and nobody can break out of its data', async () => {
    room.write('cousins-porter', room.text('cousins-porter').replace('boil: ', 'boli: '));
    const reply = await served.get('/batches/cousins-porter/key-in/');
    expect([reply.status, /\bcheck says which/.test(reply.body)]).toEqual([409, true]);
    await save({ 'fermentation[0].on': '2027-01-12', 'fermentation[0].note': '</script><b>quiet' });
    const { body } = await served.get(PAGE);
    expect([
      body.includes('</script><b>'),
      body.includes('\\u003c/script\\u003e\\u003cb\\u003equiet'),
    ]).toEqual([false, true]);
  });

  it('leaves everything that is not its own to others', async () => {
    mkdirSync(join(room.content, 'batches', 'key-in'), { recursive: true });
    for (const path of [
      '/',
      `/batches/${SLUG}/`,
      `/batches/${SLUG}/key-in/x`,
      '/key-in/',
      '/batches/../key-in/',
    ])
      expect((await served.get(path)).body).toBe('elsewhere');
  });
});
