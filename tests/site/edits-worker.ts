/** `npm start` as it is, without a port: edits a file so many times and tells the memory in use after each tenth, kB. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import Eleventy from '@11ty/eleventy';
import { setRunning } from '../../lib/site/preview/running.ts';

const [content = '', edits = '0'] = process.argv.slice(2);
setRunning({ token: '', lan: null, printedTo: [] });
process.env.KETTLESIDE_CONTENT = content;
const say = console.log;
const quiet = { log: () => undefined, warn: () => undefined, error: () => undefined };
Object.assign(console, quiet);
const eleventy = new Eleventy('templates/pages', join(content, '../out'), {
  configPath: '.eleventy.js',
  source: 'cli',
  runMode: 'serve',
});
eleventy.logger.overrideLogger({ ...console, ...quiet });
await eleventy.init();
const again = await eleventy.watch();
const file = join(content, 'batches/regatta-bitter.md');
const text = readFileSync(file, 'utf8');
const collect = (globalThis as { gc?: () => void }).gc;
const used: number[] = [];
for (let n = 1; n <= Number(edits); n += 1) {
  writeFileSync(file, text.replace(/^title:.*$/m, `title: Edit ${n}`));
  // The watcher may see the file first, and then this call is not answered.
  await Promise.race([again(file), wait(3000)]);
  if (n % 10 !== 0) continue;
  collect?.();
  collect?.();
  used.push(process.memoryUsage().heapUsed / 1024);
}
say(JSON.stringify(used));
process.exit(0);
