import { once } from 'node:events';
import { existsSync, renameSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Place, place, smallBatch, start, write } from './run.ts';

let made: Place;
beforeAll(() => {
  made = place([]);
  write(made.batch('first'), smallBatch('First Light'));
});
afterAll(() => made.remove());

it('npm start shows the site, takes changes up, and ends when told to', async () => {
  const child = start('start', ['--content', made.content, '--output', made.output, '--port', '18730']);
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (bytes) => {
      said += bytes;
    });
  try {
    await until(() => /http:\/\/localhost:\d+/.test(said));
    // By number: a bare machine may have no name for itself.
    const address = /http:\/\/localhost:\d+/.exec(said)?.[0].replace('localhost', '127.0.0.1') ?? '';
    const page = async (path: string) => (await fetch(`${address}/${path}`)).text();
    expect(await page('batches/first/')).toContain('First Light');
    expect(await page('assets/site.css')).toContain('--');
    expect(await page('assets/recipe.js')).toContain('function');
    write(made.batch('first'), smallBatch('Second Thoughts'));
    await until(async () => (await page('batches/first/')).includes('Second Thoughts'));
    expect(await page('')).toContain('Second Thoughts');
    write(made.batch('second'), smallBatch('Third Lock'));
    await until(async () => (await page('')).includes('Third Lock'));
    rmSync(made.batch('second'));
    await until(async () => !(await page('')).includes('Third Lock'));
    expect((await fetch(`${address}/batches/second/`)).status).toBe(404);
    // What is wrong is told once, not at each change of another file.
    const wrong = /third\.md:\d+:\d+ +title/g;
    write(made.batch('third'), smallBatch('Gone').replace(/^title:.*\n/m, ''));
    await until(() => said.search(wrong) >= 0);
    write(made.batch('first'), smallBatch('Fourth Change'));
    await until(async () => (await page('')).includes('Fourth Change'));
    expect(said.match(wrong)).toHaveLength(1);
    // What is no address is answered like any other.
    for (const path of ['/', '/[', '/%2e%2e%2fpackage.json', '/%'])
      expect((await fetch(`${address}/${path}`)).status).toBeLessThan(500);
    expect((await fetch(address, { method: 'DELETE' })).status).toBe(405);
    // The folder goes and comes again, as a sync does it.
    renameSync(made.content, `${made.content}-away`);
    await pause(200);
    renameSync(`${made.content}-away`, made.content);
    await until(async () => (await page('batches/first/')).includes('Fourth Change'));
    await pause(1500);
    write(made.batch('first'), smallBatch('Fifth Change'));
    await until(async () => (await page('batches/first/')).includes('Fifth Change'));
    // News of changes is for whoever may ask for pages.
    const port = new URL(address).port;
    const own = `localhost:${port}`;
    expect(await hears(port, { host: own, origin: `http://${own}` })).toBe(true);
    expect(await hears(port, { host: own, origin: 'http://elsewhere.example' })).toBe(false);
    expect(
      await hears(port, { host: `elsewhere.example:${port}`, origin: `http://elsewhere.example:${port}` }),
    ).toBe(false);
    // Looking on writes nothing.
    expect(existsSync(made.output)).toBe(false);
  } finally {
    child.kill('SIGINT');
  }
  const [code] = await once(child, 'close');
  expect(code).toBe(0);
});

const pause = (ms: number) => new Promise((go) => setTimeout(go, ms));

/** Whether a socket is opened on which changes are told, RFC 6455, 4.1. */
function hears(port: string, headers: Readonly<Record<string, string>>): Promise<boolean> {
  const upgrade = {
    connection: 'Upgrade',
    upgrade: 'websocket',
    'sec-websocket-version': '13',
    'sec-websocket-key': 'AAAAAAAAAAAAAAAAAAAAAA==',
  };
  return new Promise((resolve) => {
    const asked = request({ host: '127.0.0.1', port, headers: { ...upgrade, ...headers } });
    asked.on('upgrade', (_, socket) => {
      socket.destroy();
      resolve(true);
    });
    asked.on('response', () => resolve(false));
    asked.on('error', () => resolve(false));
    asked.end();
  });
}

async function until(true_: () => boolean | Promise<boolean>): Promise<void> {
  const end = Date.now() + 90_000;
  while (!(await true_())) {
    if (Date.now() > end) throw new Error('waited for a minute and a half in vain');
    await pause(100);
  }
}
