import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { loadSite } from '../../lib/site/archive.ts';
import { createPages } from '../../lib/site/pages.ts';
import { run } from '../commands/run.ts';
import {
  expectNoBarriers,
  FORM,
  fill,
  formRoom,
  lookOnceMore,
  openAll,
  press,
  SLUG,
  value,
} from './browser.ts';
import { TOKEN } from './serving.ts';

const served = formRoom();
const { open, readings } = served;

describe('the form with a server', () => {
  it('is walked with Tab from the first blank of the paper to the last, and none is left out', async () => {
    const page = await open(FORM);
    await openAll(page);
    const shown = '[data-blank] :is(input:not(:disabled), select)';
    const inputs = await page.$$eval(shown, (all) =>
      all.filter((each) => each.getClientRects().length > 0).map(({ id }) => id),
    );
    await page.focus('[id="A1"]');
    const walked: string[] = [];
    for (let i = 0; i < 6 * inputs.length; i++) {
      const [id, bar] = await page.evaluate(() => {
        const at = document.activeElement;
        return [at?.closest('[data-blank]') ? (at?.id ?? '') : '', at?.closest('.bar') !== null] as const;
      });
      if (bar) break;
      // A day has three stops of its own.
      if (id !== '' && walked.at(-1) !== id) walked.push(id);
      await page.keyboard.press('Tab');
    }
    expect(walked).toEqual(inputs);
    const letters = [...new Set(walked.map((id) => id.charAt(0)))];
    expect(letters.join('')).toBe('ABCDEFGHJK');
    await page.context().close();
  });

  it('has again what was typed when the page was closed, until it is saved or begun anew', async () => {
    const page = await open(FORM);
    const again = async () => {
      await page.goto('about:blank');
      await page.goto(served.origin + FORM);
      await page.waitForSelector('.bar button');
      return { a1: await value(page, 'A1'), d2: await value(page, 'D2') };
    };
    await fill(page, { A1: '1320', D2: '1084' });
    expect(await again()).toEqual({ a1: '13:20', d2: '1084' });
    expect(await page.textContent('[data-restored]')).toContain('in the form again');
    await expectNoBarriers(page);
    await press(page);
    await page.click('.summary .offer');
    // What was taken from an offer is kept, and not what was typed before.
    expect(await again()).toEqual({ a1: '13:20', d2: '1.084' });
    const kept = await page.evaluate((slug) => localStorage.getItem(`kettleside key-in ${slug}`), SLUG);
    expect(kept?.split('\n').filter((line) => !/^(was|batch) /.test(line) && line !== '')).toEqual([
      'heating_started = 13:20',
      'original_gravity = 1.084',
    ]);
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    await again();
    expect(await page.locator('[data-restored]').count()).toBe(0);
    await fill(page, { A1: '1500' });
    await again();
    await Promise.all([page.waitForEvent('load'), page.click('[data-restored] button')]);
    expect(await value(page, 'A1')).toBe('13:20');
    await page.context().close();
  });

  it('shows what others have written meanwhile beside what was typed, and saves over it only then', async () => {
    const page = await open(FORM);
    await fill(page, { D2: '1.084', A1: '1320' });
    served.room.write(
      SLUG,
      served.untouched.replace(/---\n(?!title)/, 'readings:\n  original_gravity: 1.080\n---\n'),
    );
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('[data-summary]');
    expect(await page.textContent('[data-summary]')).toMatch(
      /has changed since you typed.*D2.*the file now says 1\.080/s,
    );
    expect(readings()).toEqual({ original_gravity: '1.080' });
    expect([await value(page, 'D2'), await value(page, 'A1')]).toEqual(['1.084', '13:20']);
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    expect(readings()).toEqual({ heating_started: '13:20', original_gravity: '1.084' });
    await page.context().close();
  });

  it('an editor that saves a minute later over a reading is noticed', async () => {
    const page = await open(FORM);
    const looked = async () => {
      const asked = page.waitForResponse((reply) => reply.request().method() === 'GET');
      await page.evaluate(() => window.dispatchEvent(new Event('focus')));
      await (await asked).finished();
    };
    const saveAll = async () => {
      await lookOnceMore(page);
      await press(page);
      await page.waitForSelector('#review :text-is("Saved")');
    };
    await fill(page, { D2: '1.084', F1: '2027-01-09', F2: '1.080' });
    await saveAll();
    await fill(page, { D2: '1.085', F4: 'a thin foam' });
    await saveAll();
    const both = readings();
    expect(both).toMatchObject({ original_gravity: '1.085', fermentation: [{ note: 'a thin foam' }] });
    // One that adds a row above and a note takes nothing out.
    const older = '    - { on: 2027-01-08, gravity: 1.083 }\n';
    served.room.write(
      SLUG,
      `${served.room.text(SLUG).replace(/fermentation:\n/, (line) => line + older)}\nA note.\n`,
    );
    await looked();
    await fill(page, { A1: '13' });
    expect(await page.locator('[data-lost]').count()).toBe(0);
    // Nor one in which a reading is corrected.
    const corrected = served.room.text(SLUG).replace('1.085', '1.086');
    served.room.write(SLUG, corrected);
    await looked();
    expect(await page.locator('[data-lost]').count()).toBe(0);
    // One that saves what it read before all of that: nothing moves under the hands of whoever types.
    served.room.write(SLUG, served.untouched);
    await looked();
    await page.waitForSelector('[data-lost]');
    expect(await page.textContent('[data-lost]')).toMatch(/No longer in the file: D2 .*F1 .*F2 .*F4 /s);
    await page.tap('[data-lost] button');
    expect(await page.locator('[data-lost]').count()).toBe(0);
    expect(await page.textContent('[data-summary]')).toMatch(
      /has changed since you typed.*D2.*the file now says nothing.*F1.*F2.*F4/s,
    );
    expect(await value(page, 'A1')).toBe('13');
    await fill(page, { A1: '' });
    await saveAll();
    expect(readings()).toEqual(both);
    await page.context().close();
  });

  it('says so where an editor saves an older text at the same moment as the form', async () => {
    const page = await open(FORM);
    await fill(page, { D2: '1.084' });
    await lookOnceMore(page);
    const data = JSON.parse((await page.textContent('#key-in-data')) ?? '');
    await page.route('**/key-in/', (route) =>
      route.fulfill({ status: 409, json: { kind: 'changed', data } }),
    );
    await press(page);
    await page.waitForSelector('#review :text-is("Not saved")');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('review');
    expect(await value(page, 'D2')).toBe('1.084');
    await page.context().close();
  });

  it('keeps what was typed where the server asks for its code, which is entered in another tab', async () => {
    const page = await open(FORM);
    await fill(page, { A1: '1320' });
    await lookOnceMore(page);
    await page.context().clearCookies();
    await press(page);
    await page.waitForSelector('#review :text-is("Not saved")');
    expect(await page.textContent('#review')).toContain('enter the code there');
    const gate = await page.context().newPage();
    await gate.goto(served.origin + FORM);
    await gate.fill('[name=token]', TOKEN);
    await gate.click('button[type=submit]');
    await gate.waitForSelector('.bar button');
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    expect(readings()).toEqual({ heating_started: '13:20' });
    await page.context().close();
  });
});

describe('the form without a server, opened as a file', () => {
  const form = `batches/${SLUG}/key-in/index.html`;
  const address = (folder = served.out) => pathToFileURL(join(folder, form)).href;
  /** The site in another folder, with the form as the file is now. */
  const publishedAnew = async (name: string): Promise<string> => {
    const folder = join(served.room.dir, name);
    cpSync(served.out, folder, { recursive: true });
    writeFileSync(join(folder, form), createPages((await loadSite(served.room.content)).content).file(form));
    return address(folder);
  };

  it('shows what is keyed in already, and names what is changed as a change', async () => {
    const slug = 'november-fog-porter';
    const before = served.room.text(slug);
    const page = await open(pathToFileURL(join(served.out, `batches/${slug}/key-in/index.html`)).href);
    const old = await value(page, 'D2');
    expect(old).toMatch(/^1\.0\d+$/);
    await press(page);
    expect(await page.textContent('#review')).toContain('Nothing new was keyed in');
    await fill(page, { D2: '1.058', A1: '' });
    await page.check('[id="C2-n"]');
    await lookOnceMore(page);
    const changes = await page.$$eval('#review dl > div', (all) => all.map(({ textContent }) => textContent));
    expect(changes).toEqual([
      expect.stringMatching(/^A1 Kettle on.*taken out: \d\d:\d\d$/),
      expect.stringMatching(/^C2 Chilled to.*not.taken.* in place of \d+.°C$/),
      expect.stringMatching(new RegExp(`^D2 Original gravity.*1\\.058.* in place of ${old}`)),
    ]);
    const lines = parse(await page.inputValue('#made-lines'), { schema: 'failsafe' }).readings;
    expect([lines.heating_started, lines.chilled.temperature]).toEqual([undefined, 'not taken']);
    const [saved] = await Promise.all([page.waitForEvent('download'), page.click('#made-file')]);
    const file = join(served.room.dir, saved.suggestedFilename());
    await saved.saveAs(file);
    await page.context().close();

    // Meanwhile somebody has keyed in another original gravity.
    const theirs = before.replace(/original_gravity: .*/, 'original_gravity: 1.057 @ 20 °C');
    served.room.write(slug, theirs);
    const refused = await run('key-in', ['--content', served.room.content, slug, '--file', file, '--sure']);
    expect(refused.code).toBe(1);
    expect(refused.out).toMatch(/D2 Original gravity .*\n.*says {2}1\.057.*\n {2}keyed in +1\.058/);
    expect(served.room.text(slug)).toBe(theirs);
    served.room.write(slug, before);
    const taken = await run('key-in', ['--content', served.room.content, slug, '--file', file, '--sure']);
    expect([taken.code, taken.err]).toEqual([0, '']);
    const now = parse(/^---\n([\s\S]*?\n)---/.exec(served.room.text(slug))?.[1] ?? '', {
      schema: 'failsafe',
    });
    expect(now.readings).toEqual(lines);
    served.room.write(slug, before);
  });

  it('keeps what was typed when the page is published anew with other readings, and says what to look at', async () => {
    const page = await open(address());
    await fill(page, { D2: '1.084', F4: 'krausen falling' });
    served.room.write(
      SLUG,
      served.untouched.replace(
        /---\n(?!title)/,
        'readings:\n  original_gravity: 1.080\n  fermentation:\n    - { on: 2027-01-12 08:00, note: theirs }\n---\n',
      ),
    );
    await page.goto(await publishedAnew('again'));
    expect(await page.inputValue('[id="D2"]')).toBe('1.084');
    expect([await page.inputValue('[id="F4"]'), await page.inputValue('[id="F8"]')]).toEqual([
      'theirs',
      'krausen falling',
    ]);
    expect(await page.textContent('[data-summary]')).toMatch(
      /has changed since you typed.*D2.*the file now says 1\.080/s,
    );
    await page.context().close();
  });

  it('takes a morning by a clock of twelve hours, shows it so, and has it again when the page was closed', async () => {
    const brewery = join(served.room.content, 'brewery.yaml');
    const before = readFileSync(brewery, 'utf8');
    writeFileSync(brewery, before.replace(/^language:.*$/m, 'language: en-US'));
    const page = await open(await publishedAnew('american'));
    writeFileSync(brewery, before);
    await fill(page, { F1: '2027-01-12', 'F1-c': '10:15', A1: '9:05 am' });
    // A half that nobody has said is asked for again after the page was closed.
    await page.reload();
    await page.waitForSelector('.bar button');
    expect(await value(page, 'F1-c')).toBe('10:15');
    await press(page);
    await page.tap('.summary .offer:has-text("am")');
    expect(await page.locator('.summary .offer').count()).toBe(0);
    await page.reload();
    await page.waitForSelector('.bar button');
    expect([await value(page, 'F1-c'), await value(page, 'A1')]).toEqual(['10:15\u00a0am', '9:05\u00a0am']);
    await openAll(page);
    // None of it is cut off, nor makes a phone scroll to the side.
    expect(await page.$eval('[id="F1-c"]', (input) => input.scrollWidth - input.clientWidth)).toBe(0);
    await expectNoBarriers(page);
    await lookOnceMore(page);
    expect(parse(await page.inputValue('#made-lines')).readings).toEqual({
      heating_started: '09:05',
      fermentation: [{ on: '2027-01-12 10:15' }],
    });
    await page.context().close();
  });

  it('does not bring back what has come into the file, nor a row of the log a second time', async () => {
    const page = await open(address());
    await fill(page, { D2: '1.084', F4: 'krausen falling', F1: '2027-01-09', A1: '1320' });
    served.room.write(
      SLUG,
      served.untouched.replace(
        /---\n(?!title)/,
        'readings:\n  original_gravity: 1.084\n  fermentation:\n    - { on: 2027-01-09, note: krausen falling }\n---\n',
      ),
    );
    await page.goto(await publishedAnew('taken-in'));
    expect(await page.inputValue('[id="F4"]')).toBe('krausen falling');
    expect(await page.inputValue('[id="F8"]')).toBe('');
    expect(await page.inputValue('[id="A1"]')).toBe('13:20');
    expect(await page.locator('[data-summary]').count()).toBe(0);
    await page.context().close();
  });
});
