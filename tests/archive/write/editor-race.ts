/** Saves of readings and of an editor in another thread, timed to fall together. */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { surroundingsOf } from '../../../lib/archive/open-batch.ts';
import { readArchive } from '../../../lib/archive/read-archive.ts';
import { besideOf } from '../../../lib/archive/write/sibling-path.ts';
import { writeReadings } from '../../../lib/archive/write/write-readings.ts';

const SLUG = 'twelfth-night-old';

/** Waits until the lock is there, then for some more, and saves; says whether the other save was still to look once more. */
const EDITOR = `
const { parentPort } = require('node:worker_threads');
const { existsSync, renameSync, writeFileSync } = require('node:fs');
const now = () => performance.timeOrigin + performance.now();
parentPort.on('message', ({ path, lock, before, text, kind, delay_ms }) => {
  const until = now() + 5000;
  while (!existsSync(lock) && now() < until);
  const at = now() + delay_ms;
  while (now() < at);
  if (kind === 'in place') writeFileSync(path, text);
  else {
    writeFileSync(path + '.theirs', text);
    renameSync(path + '.theirs', path);
  }
  parentPort.postMessage({ early: !existsSync(before) });
});
parentPort.postMessage('ready');
`;

export interface Raced {
  readonly tries: number;
  /** Tries after which the editor's text was in no file. */
  readonly lost: readonly string[];
  /** Tries in which what was keyed in or what the editor saved does not stand, and nobody was told. */
  readonly untold: readonly string[];
  /** Tries in which the two met: the reading was not saved. */
  readonly met: number;
}

/** So many saves by an editor, each at another moment of a save of a reading; by rename and in place in turn. */
export async function savesInTurns(tries: number): Promise<Raced> {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-race-'));
  cpSync('content', dir, { recursive: true });
  const path = join(dir, 'batches', `${SLUG}.md`);
  const original = readFileSync(path, 'utf8');
  const around = surroundingsOf(await readArchive(dir, { tablesDir: 'shared' }));
  const editor = new Worker(EDITOR, { eval: true });
  const said = <T>() => new Promise<T>((tell) => editor.once('message', tell));
  await said();
  const [lost, untold]: [string[], string[]] = [[], []];
  let met = 0;
  // How long a save takes here, so that the moments are spread over all of it.
  let span_ms = 60;
  try {
    for (let at = 0; at < tries; at += 1) {
      for (const name of readdirSync(join(dir, 'batches')))
        if (name.startsWith('.')) rmSync(join(dir, 'batches', name));
      writeFileSync(path, original);
      const kind = at % 2 === 0 ? 'by rename' : 'in place';
      const theirs = original.replace(/^title:.*$/m, `title: Edited ${at}`);
      const delay_ms = (span_ms * (at % 97)) / 97;
      const saved = said<{ early: boolean }>();
      editor.postMessage({
        path,
        lock: besideOf(path, 'lock'),
        before: besideOf(path, 'before'),
        text: theirs,
        kind,
        delay_ms,
      });
      const start = performance.now();
      const { kind: told } = await writeReadings({
        contentDir: dir,
        slug: SLUG,
        around,
        hash: null,
        changes: () => [{ path: ['boil_started'], value: '14:50' }],
      });
      if (told === 'written') span_ms = 0.9 * span_ms + 0.1 * (performance.now() - start);
      else met += 1;
      const { early } = await saved;
      const folder = join(dir, 'batches');
      const files = readdirSync(folder, { withFileTypes: true }).filter((one) => one.isFile());
      const texts = files.map(({ name }) => readFileSync(join(folder, name), 'utf8'));
      const what = `${at} ${kind} after ${delay_ms.toFixed(1)} ms: ${told}`;
      const of = (text: string) => text.includes(`title: Edited ${at}\n`);
      if (!texts.some(of)) lost.push(what);
      const stands = existsSync(path) ? readFileSync(path, 'utf8') : '';
      const both = of(stands) && stands.includes('boil_started: 14:50');
      // An editor that saves once all is done knows nothing of it, as with any other change.
      if (told === 'written' && !both && early) untold.push(what);
      if (told !== 'written' && !of(stands)) untold.push(what);
    }
  } finally {
    await editor.terminate();
    rmSync(dir, { recursive: true, force: true });
  }
  return { tries, lost, untold, met };
}
