/** How long a change of one batch takes under `npm start` until its page shows it, from the end of the writing. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../../../lib/site/paths.ts';

const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');
const PORT = '18790';
/** Far beyond what is measured: the server has failed. */
const LONGEST_MS = 120_000;

const pause = (ms: number) => new Promise((go) => setTimeout(go, ms));

async function until<T>(look: () => T | null | Promise<T | null>): Promise<T> {
  const start = performance.now();
  for (;;) {
    const found = await look();
    if (found !== null) return found;
    if (performance.now() - start > LONGEST_MS) throw new Error('npm start did not answer.');
    await pause(5);
  }
}

/** The fastest of some changes to the batch in the middle of an archive, ms. */
export async function changeShown(content: string, output: string, rounds: number): Promise<number> {
  const args = ['lib/commands/start.ts', '--content', content, '--output', output, '--port', PORT];
  const child = spawn(process.execPath, [JITI, ...args], { cwd: ROOT });
  const ended = once(child, 'close');
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (bytes) => {
      said += bytes;
    });
  try {
    const port = await until(() => /Server at http:\/\/localhost:(\d+)/.exec(said)?.[1] ?? null);
    const names = readdirSync(join(content, 'batches'));
    const name = names[Math.floor(names.length / 2)] ?? '';
    const file = join(content, 'batches', name);
    const page = `http://127.0.0.1:${port}/batches/${name.replace('.md', '')}/`;
    const text = readFileSync(file, 'utf8');
    const times: number[] = [];
    for (let round = 0; round < rounds; round++) {
      await pause(500);
      const title = `Change ${round} of this one`;
      writeFileSync(file, text.replace(/^title: .*$/m, `title: ${title}`));
      const start = performance.now();
      await until(async () => ((await (await fetch(page)).text()).includes(title) ? true : null));
      times.push(performance.now() - start);
    }
    return Math.min(...times);
  } finally {
    child.kill('SIGINT');
    await ended;
  }
}
