import { once } from 'node:events';
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { READINGS_TYPE } from '../../lib/browser/key-in/data.ts';
import { start } from '../commands/run.ts';
import { type Kitchen, keyed, kitchen } from './serving.ts';

const SLUG = 'twelfth-night-old';
let room: Kitchen;
beforeAll(() => {
  room = kitchen([SLUG, 'november-fog-porter']);
});
afterAll(() => room.remove());

/** The address by which others reach this computer, where it has one. */
const outer = Object.values(networkInterfaces())
  .flatMap((each) => each ?? [])
  .find(({ internal, family }) => !internal && family === 'IPv4')?.address;

const answers = (host: string, port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connect({ host, port, timeout: 3000 });
    const end = (open: boolean) => () => {
      socket.destroy();
      resolve(open);
    };
    socket.on('connect', end(true)).on('error', end(false)).on('timeout', end(false));
  });

async function started(
  args: readonly string[],
  test: (port: number, code: string) => Promise<void>,
): Promise<void> {
  const output = join(room.dir, 'out');
  const child = start('start', ['--content', room.content, '--output', output, ...args]);
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (bytes) => {
      said += bytes;
    });
  const ended = once(child, 'close');
  try {
    const until = Date.now() + 60_000;
    while (!/Server at http:\/\/localhost:\d+/.test(said) || !/Code .*: \S+/.test(said)) {
      if (Date.now() > until) throw new Error(said);
      await new Promise((go) => setTimeout(go, 100));
    }
    await test(Number(/localhost:(\d+)/.exec(said)?.[1]), /Code .*: (\S+)/.exec(said)?.[1] ?? '');
  } finally {
    child.kill('SIGINT');
    await ended;
  }
}

describe('npm start', () => {
  it('listens on this computer only, and takes readings from whoever has the code', async () => {
    await started(['--port', '18750'], async (port, code) => {
      const page = `http://localhost:${port}/batches/${SLUG}/key-in/`;
      expect(await answers('127.0.0.1', port)).toBe(true);
      if (outer !== undefined) expect(await answers(outer, port)).toBe(false);
      expect((await fetch(page)).status).toBe(403);
      // A beer that ferments is one step from the next row of its log, one that is planned is not.
      const links = await Promise.all(
        ['november-fog-porter', SLUG].map(async (slug) => {
          const html = await (await fetch(`http://localhost:${port}/batches/${slug}/index.html`)).text();
          return [...html.matchAll(/href="(key-in\/[^"]*)"/g)].map(([, href]) => href);
        }),
      );
      expect(links).toEqual([['key-in/index.html#log', 'key-in/index.html'], ['key-in/index.html']]);
      const cookie =
        (await fetch(`${page}?code=${code}`, { redirect: 'manual' })).headers.get('set-cookie') ?? '';
      const headers = { cookie: cookie.split(';')[0] ?? '', origin: `http://localhost:${port}` };
      const body = keyed(SLUG, { boil_started: '14:50' });
      const sent = { ...headers, 'content-type': READINGS_TYPE };
      expect((await fetch(page, { method: 'POST', headers: sent, body })).status).toBe(200);
      expect(room.text(SLUG)).toContain('  boil_started: 14:50\n');
    });
  });

  it('with --lan answers in the network too, by its own addresses only', async () => {
    await started(['--port', '18760', '--lan'], async (port) => {
      if (outer === undefined) return;
      const inside = /^(10\.|192\.168\.|172\.(1[6-9]|2\d|3[01])\.|169\.254\.)/.test(outer);
      const status = (await fetch(`http://${outer}:${port}/batches/${SLUG}/key-in/`)).status;
      const asked = await fetch(`http://${outer}:${port}/index.html`);
      expect([status, asked.status]).toEqual([403, inside ? 200 : 403]);
    });
  });
});
