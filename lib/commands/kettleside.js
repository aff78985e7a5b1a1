#!/usr/bin/env node
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { setFlagsFromString } from 'node:v8';

// Most code runs some thousand times and no more: the engine spends less on making code fast than it would by itself,
// clears its small young heap alone, as its helpers find nothing to do there, and lets the old one double at most before it looks.
// Only versions that were tried are told so: another would complain of a flag that it does not know.
const flags = [
  'max-inlined-bytecode-size-cumulative=200',
  'no-parallel-scavenge',
  'heap-growing-percent=100',
];
const ofVersion = { 20: [...flags, 'interrupt-budget=200000'], 22: flags, 24: flags };
for (const flag of ofVersion[process.versions.node.split('.')[0]] ?? []) setFlagsFromString(`--${flag}`);

// Packages that look for files beside their own, and are loaded only where they are needed.
const OWN_FOLDER = /^(?:@11ty\/eleventy|chokidar|playwright-core|rolldown|sharp)$/;

const commands = new URL('./', import.meta.url);
const words = readdirSync(commands, { withFileTypes: true })
  .filter((entry) => entry.name.endsWith('.ts') && entry.name !== 'verify.ts')
  .map(({ name }) => name.replace(/\.ts$/, ''));

const [word = '--help'] = process.argv.splice(2, 1);
if (words.includes(word)) await run(word);
else {
  const asked = word === '--help' || word === '-h';
  const say = asked ? console.log : console.error;
  if (!asked) say(`There is no command "${word}".`);
  say('Sheets for the brewing day and an archive of your batches, from the files in this folder.\n');
  say(`  kettleside ${words.join('\n  kettleside ')}\n`);
  say('Start with kettleside begin; every command says more with --help.');
  process.exitCode = asked ? 0 : 2;
}

async function run(word) {
  const script = await scriptOf(word).catch(() => null);
  if (script !== null) return import(pathToFileURL(script).href);
  const { createJiti } = await import('jiti');
  return createJiti(import.meta.url).import(new URL(`${word}.ts`, commands).href);
}

/**
 * A command and all that it imports as one script, kept by what it is made from: it starts in half the time of TypeScript that is
 * loaded file by file, and runs faster. Null in an installed program, whose folder is not written to.
 */
async function scriptOf(word) {
  const root = fileURLToPath(new URL('../../', commands));
  if (/[\\/]node_modules[\\/]/.test(root)) return null;
  const hash = createHash('sha256').update(import.meta.url);
  const own = readdirSync(join(root, 'lib'), { recursive: true }).filter((path) => /\.[jt]s$/.test(path));
  // Of the packages that are installed, whatever is to be.
  for (const path of ['node_modules/.package-lock.json', ...own.sort().map((each) => join('lib', each))])
    hash.update(path).update(readFileSync(join(root, path)));
  const folder = join(root, '.cache/code');
  const name = `${word}-${hash.digest('hex').slice(0, 32)}.mjs`;
  const script = join(folder, name);
  if (existsSync(script)) return script;
  const { rolldown } = await import('rolldown');
  const build = await rolldown({
    input: join(root, 'lib/commands', `${word}.ts`),
    platform: 'node',
    external: OWN_FOLDER,
    transform: { define: { 'import.meta.url': JSON.stringify(import.meta.url) } },
    logLevel: 'silent',
  });
  const { output } = await build.generate({ format: 'esm', codeSplitting: false });
  await build.close();
  mkdirSync(folder, { recursive: true });
  for (const old of readdirSync(folder))
    if (old.startsWith(`${word}-`)) rmSync(join(folder, old), { force: true });
  writeFileSync(`${script}.${process.pid}`, output[0].code);
  renameSync(`${script}.${process.pid}`, script);
  return script;
}
