import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { smallBatch } from '../commands/run.ts';
import { hashIn, type Kitchen, kitchen, type Served, serve, TOKEN } from './serving.ts';

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

const readings = (slug = SLUG): Record<string, unknown> =>
  parse(/^---\n([\s\S]*?\n)---/.exec(room.text(slug))?.[1] ?? '', { schema: 'failsafe' }).readings ?? {};

/** Four digits of a clock time, one for each row. */
const clockOf = (i: number): string =>
  `${String(Math.floor(i / 60) + 9).padStart(2, '0')}${String(i % 60).padStart(2, '0')}`;

/** Keys in from the form to the file, as a browser would. */
async function throughAllPages(fields: Readonly<Record<string, string>>) {
  const form = await served.get(PAGE);
  const was = (/name="was" value="([^"]*)"/.exec(form.body)?.[1] ?? '').replaceAll('&quot;', '"');
  const check = await served.post(PAGE, { hash: hashIn(form.body), was, do: 'check', ...fields });
  const carried = [...check.body.matchAll(/name="(a\.[^"]+)" value="([^"]*)"/g)].map(([, name, value]) => [
    name,
    value,
  ]);
  const saved = await served.post(PAGE, {
    hash: hashIn(check.body),
    do: 'save',
    ...Object.fromEntries(carried),
  });
  return { form, check, saved };
}

describe('wort that is too warm for the yeast', () => {
  const day = { 'a.chilled.temperature': '40 °C', 'a.chilled.at': '17:10', 'a.original_gravity': '1.084' };
  const saved = async (fields: Readonly<Record<string, string>>): Promise<string> => {
    const hash = hashIn((await served.get(PAGE)).body);
    expect((await served.post(PAGE, { do: 'save', hash, ...fields })).status).toBe(303);
    return (await served.get(`${PAGE}saved/`)).body.replaceAll('\u00a0', ' ');
  };

  it('is to be cooled, as long as the yeast is not in', async () => {
    expect(await saved(day)).toContain('Cool it to 18 °C before the yeast goes in');
  });

  it('is only told of once the yeast is in', async () => {
    const body = await saved({
      ...day,
      'a.pitched.on': '2027-01-09 17:30',
      'a.pitched.temperature': '24 °C',
    });
    expect(readings().pitched).toEqual({ on: '2027-01-09 17:30', temperature: '24 °C' });
    expect(body).not.toContain('before the yeast goes in');
  });

  it('is not what is a few degrees off', async () => {
    expect(await saved({ ...day, 'a.chilled.temperature': '22 °C' })).not.toContain(
      'before the yeast goes in',
    );
  });
});

describe('nothing is written', () => {
  const fields = { do: 'save', 'a.boil_started': '14:50' };
  const withHash = async () => ({ ...fields, hash: hashIn((await served.get(PAGE)).body) });

  it('but for this very request, which is a good one', async () => {
    expect((await served.post(PAGE, await withHash())).status).toBe(303);
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
    expect((await served.post(PAGE, await withHash(), headers)).status).toBe(403);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it.each([
    'attacker.example',
    `attacker.example:80`,
    'localhost.attacker.example',
    '127.0.0.1.attacker.example',
    '192.168.1.10',
  ])('under a name that was bent to point here, %j', async (host) => {
    const headers = { host, origin: `http://${host}` };
    expect((await served.post(PAGE, await withHash(), headers)).status).toBe(403);
    expect((await served.get(PAGE, { host })).status).toBe(403);
    expect(room.text(SLUG)).toBe(untouched);
  });

  it.each([null, 'kettleside-code=', 'kettleside-code=k7pm-2xqd-9rtd', 'other=k7pm-2xqd-9rtc'])(
    'without the code, with the cookie %j',
    async (cookie) => {
      const reply = await served.post(PAGE, await withHash(), { cookie });
      expect(reply.status).toBe(403);
      expect(room.text(SLUG)).toBe(untouched);
      // What was typed is carried on to the page after the code.
      expect(reply.body).toContain('name="a.boil_started" value="14:50"');
    },
  );

  it('without a filled-in form', async () => {
    const json = JSON.stringify(await withHash());
    expect((await served.post(PAGE, json, { 'content-type': 'text/plain' })).status).toBe(415);
    expect((await served.post(PAGE, json, { 'content-type': 'application/json' })).status).toBe(415);
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
    expect((await served.post(`/batches/${slug}/key-in/`, await withHash())).status).toBe(404);
    expect(everythingBelow(room.dir)).toEqual(before);
  });

  it('through a link that leads out of the content folder', async () => {
    const outside = join(room.dir, 'outside.md');
    writeFileSync(outside, untouched);
    symlinkSync(outside, room.batch('linked'));
    const reply = await served.post('/batches/linked/key-in/', await withHash());
    expect(reply.status).toBe(404);
    expect(reply.body).toContain('a link that leads out');
    expect(readFileSync(outside, 'utf8')).toBe(untouched);
  });

  it('by a body of ten million bytes, announced or not', async () => {
    const long = `do=save&note=${'x'.repeat(10_000_000)}`;
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
    expect((await served.get(PAGE, { cookie: '' })).body).toContain('name="token"');
    const linked = await served.get(`${PAGE}?code=${TOKEN}`, { cookie: '' });
    expect([linked.status, linked.headers.location]).toEqual([303, PAGE]);
    expect(String(linked.headers['set-cookie'])).toMatch(/HttpOnly; SameSite=Strict/);
    const typed = await served.post(PAGE, { token: 'K7PM 2XQD 9RTC', do: 'token' }, { cookie: '' });
    expect(typed.status).toBe(303);
    expect((await served.post(PAGE, { token: 'nonsense', do: 'token' }, { cookie: '' })).status).toBe(403);
  });
});

describe('500 rows posted at once', () => {
  it('are all in the file, each once, and nothing else has changed', async () => {
    const slug = 'race';
    room.write(slug, smallBatch('Race', ['brewed: 2026-02-14', 'readings:', '  fermentation: # rows']));
    const before = room.text(slug);
    const replies = await Promise.all(
      Array.from({ length: 500 }, (_, i) =>
        served.post(`/batches/${slug}/key-in/log/`, {
          do: 'row',
          'log-on-d': '24',
          'log-on-m': '2',
          'log-on-y': '2026',
          'log-on-c': clockOf(i),
          'log-remark': `row ${i}`,
          'log-gravity': '1.014',
          'log-gravity-s': '18',
          // Rows overtake each other, so that some seem to be late.
          'log-on-ok': `2026-02-24 ${clockOf(i).slice(0, 2)}:${clockOf(i).slice(2)}`,
        }),
      ),
    );
    const outcomes = new Map<number, number>();
    for (const { status } of replies) outcomes.set(status, (outcomes.get(status) ?? 0) + 1);
    expect([...outcomes]).toEqual([[303, 500]]);
    const log = readings(slug).fermentation as readonly { readonly note: string }[];
    const notes = log.map(({ note }) => note);
    expect([...notes].sort()).toEqual(Array.from({ length: 500 }, (_, i) => `row ${i}`).sort());
    const others = room
      .text(slug)
      .split('\n')
      .filter((line) => !/note: row \d+ }$/.test(line));
    expect(others.join('\n')).toBe(before);
    const left = readdirSync(join(room.content, 'batches')).filter((name) => /\.(tmp|lock)$/.test(name));
    expect(left).toEqual([]);
  });

  it('a row that is sent twice is there once', async () => {
    const row = {
      do: 'row',
      'log-on-d': '24',
      'log-on-m': '11',
      'log-on-y': '2026',
      'log-on-c': '1915',
      'log-gravity': '1,013',
      'log-on-ok': '2026-11-24 19:15',
    };
    const slug = 'november-fog-porter';
    const before = room.text(slug);
    const statuses = await Promise.all([1, 2].map(() => served.post(`/batches/${slug}/key-in/log/`, row)));
    expect(statuses.map(({ status }) => status)).toEqual([303, 303]);
    expect(room.text(slug).split('2026-11-24 19:15, gravity: 1.013').length).toBe(2);
    room.write(slug, before);
  });
});

describe('whatever is sent', () => {
  it('is answered with a page, and writes nothing before it was shown once more', async () => {
    const { body } = await served.get(PAGE);
    const names = [...new Set([...body.matchAll(/ name="([^"]+)"/g)].map(([, name = '']) => name))];
    const NAME = fc.oneof(
      fc.constantFrom(
        ...names,
        'use',
        'edit',
        'twice',
        'F9999',
        'a.fermentation[9999].on',
        'a.original_gravity',
      ),
      fc.string(),
    );
    const TEXT = fc.oneof(
      fc.constantFrom(
        '1.050',
        '1,05',
        'not taken',
        '=',
        'original_gravity=1.05',
        '99',
        '-1',
        '1e9',
        '{}',
        '[1]',
        'null',
      ),
      fc.constantFrom(
        '{"original_gravity":{}}',
        '{"__proto__":1}',
        '\u0000',
        '2026-02-30',
        '25:99',
        '1.05 @ -400',
      ),
      fc.string({ unit: 'grapheme', maxLength: 40 }),
    );
    const sent = fc.record({
      fields: fc.dictionary(NAME, TEXT, { maxKeys: 12 }),
      stage: fc.constantFrom('check', 'edit', 'use', 'other'),
      known: fc.boolean(),
    });
    let ran = 0;
    await fc.assert(
      fc.asyncProperty(sent, async ({ fields, stage, known }) => {
        ran++;
        const { do: _, hash: old = '', ...rest } = fields;
        const act = stage === 'check' || stage === 'other' ? { do: stage } : { [stage]: rest[stage] ?? 'D2' };
        const reply = await served.post(PAGE, { ...rest, ...act, hash: known ? hashIn(body) : old });
        expect([200, 409, 422]).toContain(reply.status);
        expect(reply.body).not.toMatch(/NaN|Infinity|undefined|\[object/);
        expect(room.text(SLUG)).toBe(untouched);
      }),
      { numRuns: 150 },
    );
    expect(ran).toBe(150);
  });
});

describe('the form', () => {
  it('leads by way of the answers to the file, and on to what they mean', async () => {
    const { check, saved } = await throughAllPages({
      A1: '1320',
      D2: '1,084',
      'D2-u': 'SG',
      'D2-s': '24',
      'D2-su': '°C',
      'C1-n': '1',
      'C2-n': '1',
    });
    expect(check.status).toBe(200);
    expect(check.body).toContain('1.085 at 20\u00a0°C');
    expect([saved.status, saved.headers.location]).toEqual([303, 'saved/']);
    expect(readings()).toEqual({
      heating_started: '13:20',
      chilled: 'not taken',
      original_gravity: '1.084 @ 24 °C',
    });
    const meaning = await served.get(`${PAGE}saved/`);
    expect(meaning.body).toContain('Original gravity');
    expect(readFileSync(join(room.content, `batches/.${SLUG}.md.before`), 'utf8')).toBe(untouched);
  });

  it('shows what is emptied as taken out, and leaves the bytes that were there before it was keyed in', async () => {
    await throughAllPages({
      A1: '1320',
      D2: '1.084',
      'D2-u': 'SG',
      'D2-s': '24',
      'D2-su': '°C',
      'C1-n': '1',
    });
    const { original_gravity: _, ...rest } = readings();
    const { check, saved } = await throughAllPages({ A1: '1320', D2: '', 'D2-s': '', 'C1-n': '1' });
    expect(check.body).toMatch(/taken out: 1\.084.@.24.°C/);
    expect([saved.status, readings()]).toEqual([303, rest]);
    await throughAllPages({ A1: '', D2: '', C1: '' });
    expect(room.text(SLUG)).toBe(untouched);
  });

  it('offers 1.084 for 1084 and never takes it silently', async () => {
    const form = await served.get(PAGE);
    const wrong = await served.post(PAGE, { hash: hashIn(form.body), do: 'check', D2: '1084', 'D2-s': '24' });
    expect(wrong.status).toBe(422);
    expect(wrong.body).toContain('value="original_gravity=1.084 @ 24 °C"');
    expect(wrong.body).toContain('value="1084"');
    const used = await served.post(PAGE, {
      hash: hashIn(form.body),
      use: 'original_gravity=1.084 @ 24 °C',
      D2: '1084',
    });
    expect(used.body).toContain('value="1.084"');
    expect(room.text(SLUG)).toBe(untouched);
  });

  it('refuses what is impossible and asks again for what is unlikely', async () => {
    const hash = hashIn((await served.get(PAGE)).body);
    const impossible = await served.post(PAGE, { hash, do: 'check', E3: '90', 'E3-u': '°C' });
    expect([impossible.status, impossible.body.includes('a temperature from -5 °C to 60 °C')]).toEqual([
      422,
      true,
    ]);
    const unlikely = await served.post(PAGE, { hash, do: 'check', D2: '1.030' });
    expect(unlikely.body).toContain('that was planned');
    const sure = await served.post(PAGE, { hash, do: 'check', D2: '1.030', 'D2-ok': '1.030' });
    expect(sure.body).toContain('Look once more');
    const other = await served.post(PAGE, { hash, do: 'check', D2: '1.031', 'D2-ok': '1.030' });
    expect(other.body).not.toContain('Look once more');
  });

  it('keeps every other answer where one is wrong', async () => {
    const hash = hashIn((await served.get(PAGE)).body);
    const reply = await served.post(PAGE, {
      hash,
      do: 'check',
      A1: '1320',
      B2: 'twelve',
      F1: '',
      F4: 'quiet, <b>',
    });
    expect(reply.status).toBe(422);
    for (const text of ['value="1320"', 'value="twelve"', 'value="quiet, &lt;b&gt;"'])
      expect(reply.body).toContain(text);
  });

  it('refuses where the file has changed since it was opened, shows both and changes nothing', async () => {
    const hash = hashIn((await served.get(PAGE)).body);
    const theirs = untouched.replace(/---\n(?!title)/, 'readings:\n  original_gravity: 1.080\n---\n');
    room.write(SLUG, theirs);
    const reply = await served.post(PAGE, { hash, do: 'save', 'a.original_gravity': '1.084 @ 24 °C' });
    expect(reply.status).toBe(409);
    expect(reply.body).toMatch(/data-label="In the file now">1\.080</);
    expect(reply.body).toMatch(/data-label="Keyed in">1\.084 @ 24.°C</);
    expect(room.text(SLUG)).toBe(theirs);
  });

  it('that others have added rows to meanwhile puts its own below theirs, and writes over none', async () => {
    const slug = 'race-of-two';
    const log = [
      '    - { on: 2026-02-18 08:00, gravity: 1.019 }',
      '    - { on: 2026-02-20 08:00, gravity: 1.015 }',
    ];
    room.write(slug, smallBatch('Two', ['brewed: 2026-02-14', 'readings:', '  fermentation:', ...log]));
    const page = `/batches/${slug}/key-in/`;
    const valuesIn = (html: string) => ({
      hash: hashIn(html),
      was: (/name="was" value="([^"]*)"/.exec(html)?.[1] ?? '').replaceAll('&quot;', '"'),
    });
    const form = await served.get(page);
    // Theirs: two rows more, and the one before taken out.
    const theirs = [
      log[1],
      '    - { on: 2026-02-21 08:00, gravity: 1.013 }',
      '    - { on: 2026-02-22 08:00, note: a }',
    ];
    room.write(slug, room.text(slug).replace(log.join('\n'), theirs.join('\n')));
    // Ours: six new rows, and a remark to the last that was there.
    const ours = Object.fromEntries(
      [2, 3, 4, 5, 6, 7].flatMap((row) => [
        [`F${row * 4 + 1}-d`, `${row}`],
        [`F${row * 4 + 1}-m`, '3'],
        [`F${row * 4 + 1}-y`, '2026'],
        [`F${row * 4 + 1}-c`, ''],
        [`F${row * 4 + 4}`, `ours ${row}`],
      ]),
    );
    const first = await served.post(page, { ...valuesIn(form.body), do: 'check', ...ours, F8: 'quiet' });
    expect(first.status).toBe(409);
    // What the page then shows is sent as it stands there.
    const standing = Object.fromEntries(
      [...first.body.matchAll(/<input class="[^"]*" id="(F[^"]+)"[^>]*? value="([^"]*)"/g)].map(
        ([, name, value]) => [name, value],
      ),
    );
    const check = await served.post(page, { ...valuesIn(first.body), do: 'check', ...standing });
    expect([check.status, check.body.includes('Look once more')]).toEqual([200, true]);
    const carried = [...check.body.matchAll(/name="(a\.[^"]+)" value="([^"]*)"/g)].map(([, name, value]) => [
      name,
      value,
    ]);
    const saved = await served.post(page, {
      ...valuesIn(check.body),
      do: 'save',
      ...Object.fromEntries(carried),
    });
    expect(saved.status).toBe(303);
    expect(readings(slug).fermentation).toEqual([
      { on: '2026-02-20 08:00', gravity: '1.015', note: 'quiet' },
      { on: '2026-02-21 08:00', gravity: '1.013' },
      { on: '2026-02-22 08:00', note: 'a' },
      ...[2, 3, 4, 5, 6, 7].map((row) => ({ on: `2026-03-0${row}`, note: `ours ${row}` })),
    ]);
  });

  it('keyed twice, must say the same twice', async () => {
    const hash = hashIn((await served.get(PAGE)).body);
    const differs = await served.post(PAGE, { hash, twice: '1', do: 'check', D2: '1.084', 'D2-2': '1.048' });
    expect([
      differs.status,
      differs.body.includes('look at the paper again') || differs.body.includes('Look at the paper again'),
    ]).toEqual([422, true]);
    const same = await served.post(PAGE, { hash, twice: '1', do: 'check', D2: '1.084', 'D2-2': '1,084' });
    expect(same.body).toContain('Look once more');
  });

  it('of a batch that was poured away asks why, and takes it back again', async () => {
    const day = { 'K1-d': '20', 'K1-m': '1', 'K1-y': '2027', 'K1-ok': '2027-01-20' };
    const { check } = await throughAllPages(day);
    expect(check.status).toBe(422);
    expect(check.body).toContain('This is empty: expected a few words. Say why it was given up.');
    const { saved } = await throughAllPages({ ...day, K2: 'the cat: it fell in' });
    expect(saved.status).toBe(303);
    expect(readings()).toEqual({ abandoned: { on: '2027-01-20', why: 'the cat: it fell in' } });
    await throughAllPages({ 'K1-d': '', 'K1-m': '', 'K1-y': '', K2: '' });
    expect(room.text(SLUG)).toBe(untouched);
  });

  it('takes a night: past midnight, in the brewer’s own units, warm samples, Brix, part kegged and part bottled', async () => {
    const package_ = /^ {2}package: \{ (.*)$/m.exec(untouched);
    const divided = untouched.replace(
      package_?.[0] ?? '',
      `  package:\n    - { volume: 6 L, ${package_?.[1]}\n    - { into: keg, volume: 5 L, carbonation: 2.4 vol, temperature: 6 °C }`,
    );
    room.write(SLUG, divided);
    const fields = {
      B1: '2110',
      B2: '3',
      'B2-u': 'us gal',
      B3: '1,040',
      'B3-s': '60',
      'B3-su': '°C',
      'B3-ok': '1.040 @ 60 °C',
      B8: '2225',
      B9: '2226',
      C1: '0010',
      D2: '20,2',
      'D2-u': 'Bx',
      'E2-d': '10',
      'E2-m': '1',
      'E2-y': '2027',
      'E2-c': '0040',
      G2: '0,998',
      'G2-u': 'SG',
      'G2-ok': '0.998',
      'H1-d': '5',
      'H1-m': '2',
      'H1-y': '2027',
      'H1-ok': '2027-02-05',
      H5: '18',
      'H6-d': '5',
      'H6-m': '2',
      'H6-y': '2027',
      'H6-ok': '2027-02-05',
      'H8-n': '1',
      'E2-ok': '2027-01-10 00:40',
    };
    const { check, saved } = await throughAllPages(fields);
    expect(check.body).toContain('Went in, flame-out');
    expect(check.body).toContain('Kegged on');
    expect(saved.status).toBe(303);
    expect(readings()).toEqual({
      boil_started: '21:10',
      boil_start_volume: '3 us gal',
      boil_start_gravity: '1.040 @ 60 °C',
      additions: [{ at: 'flameout', clock: '22:26' }],
      boil_ended: '22:25',
      chilled: { at: '00:10' },
      original_gravity: '20.2 Bx',
      pitched: { on: '2027-01-10 00:40' },
      final_gravity: '0.998',
      packaged: [
        { on: '2027-02-05', into: 'bottles', bottles: '18' },
        { on: '2027-02-05', into: 'keg', temperature: 'not taken' },
      ],
    });
  });

  it('of a batch with errors says so', async () => {
    room.write('cousins-porter', room.text('cousins-porter').replace('boil: ', 'boli: '));
    const reply = await served.get('/batches/cousins-porter/key-in/');
    expect([reply.status, /\bcheck says which/.test(reply.body)]).toEqual([409, true]);
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
