import { once } from 'node:events';
import { readFileSync } from 'node:fs';
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
    const address = /http:\/\/localhost:\d+/.exec(said)?.[0] ?? '';
    expect(
      await (await fetch(`${address.replace('localhost', '127.0.0.1')}/batches/first/`)).text(),
    ).toContain('First Light');
    write(made.batch('first'), smallBatch('Second Thoughts'));
    const page = () => readFileSync(`${made.output}/batches/first/index.html`, 'utf8');
    await until(() => page().includes('Second Thoughts'));
  } finally {
    child.kill('SIGINT');
  }
  const [code] = await once(child, 'close');
  expect(code).toBe(0);
}, 200_000);

async function until(true_: () => boolean): Promise<void> {
  const end = Date.now() + 90_000;
  while (!true_()) {
    if (Date.now() > end) throw new Error('waited for a minute and a half in vain');
    await new Promise((go) => setTimeout(go, 100));
  }
}
