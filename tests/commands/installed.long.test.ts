/** The packed program in a folder of its own, with no clone beside it and only the packages that it asks for. */
import { execFileSync, spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ROOT } from './run.ts';

const dir = mkdtempSync(join(tmpdir(), 'kettleside-installed-'));
const home = join(dir, 'beer');
const modules = join(home, 'node_modules');
const installed = join(modules, 'kettleside');
const listed = (): string[] => readdirSync(installed, { recursive: true, encoding: 'utf8' }).sort();

/** Nothing of npm's own environment reaches the commands, as where somebody types them. */
const env = Object.fromEntries(
  Object.entries(process.env).filter(([key]) => !/^npm_|^KETTLESIDE/i.test(key)),
);

function kettleside(...args: readonly string[]): { readonly code: number | null; readonly out: string } {
  const command = [join(modules, '.bin/kettleside'), ...args];
  const { status, stdout, stderr } = spawnSync(process.execPath, command, {
    cwd: home,
    env,
    encoding: 'utf8',
  });
  return { code: status, out: stdout + stderr };
}

beforeAll(() => {
  const [made] = JSON.parse(
    execFileSync('npm', ['pack', '--json', '--pack-destination', dir], { cwd: ROOT, encoding: 'utf8', env }),
  );
  execFileSync('tar', ['-xzf', join(dir, made.filename), '-C', dir]);
  mkdirSync(join(modules, '.bin'), { recursive: true });
  cpSync(join(dir, 'package'), installed, { recursive: true });
  const bin: Readonly<Record<string, string>> = JSON.parse(
    readFileSync(join(installed, 'package.json'), 'utf8'),
  ).bin;
  for (const [name, path] of Object.entries(bin))
    symlinkSync(join(installed, path), join(modules, '.bin', name));
  // As an install would lay them out, without asking a registry: every package of the lock file but those of the tests.
  const lock: { packages: Record<string, { dev?: boolean }> } = JSON.parse(
    readFileSync(join(ROOT, 'package-lock.json'), 'utf8'),
  );
  for (const [path, { dev }] of Object.entries(lock.packages)) {
    const [, name] = /^node_modules\/((?:@[^/]+\/)?[^/]+)$/.exec(path) ?? [];
    if (name === undefined || dev === true || !existsSync(join(ROOT, path))) continue;
    mkdirSync(dirname(join(modules, name)), { recursive: true });
    symlinkSync(join(ROOT, path), join(modules, name));
  }
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

it('begins, makes a batch, builds, prints and keys in, and writes into the folder one stands in alone', async () => {
  const before = listed();
  expect(before).toContain('LICENSE');
  expect(before.filter((name) => /^(?:tests|content|node_modules)/.test(name))).toEqual([]);

  const help = kettleside();
  expect(help.code).toBe(0);
  for (const word of ['begin', 'new', 'build', 'start', 'key-in'])
    expect(help.out).toContain(`kettleside ${word}\n`);
  expect(kettleside('verify').code).toBe(2);
  expect(kettleside('build', '--help').out).toContain('  kettleside build [options]\n');

  const answers = { name: 'Anna', units: 'metric', paper: 'a4', pot: '12 L', stove: 'induction' };
  const rest = { fermenter: '25 L', chilling: 'coil', height: '100 m' };
  const options = Object.entries({ ...answers, ...rest }).flatMap(([key, value]) => [`--${key}`, value]);
  const begun = kettleside('begin', ...options);
  expect([begun.code, begun.out]).toEqual([0, expect.stringContaining('kettleside new "First Pale"')]);
  expect(kettleside('new', 'First Pale', '--own', '--brewed', '2026-11-08').code).toBe(0);
  const batch = join(home, 'content/batches/first-pale.md');
  mkdirSync(join(home, 'content/batches/first-pale'));
  await sharp({ create: { width: 400, height: 300, channels: 3, background: 'brown' } })
    .jpeg()
    .toFile(join(home, 'content/batches/first-pale/glass.jpg'));

  const built = kettleside('build');
  expect([built.code, built.out]).toEqual([0, expect.stringMatching(/3 sheets: 3 written[\s\S]*in _site\n/)]);
  const sheet = join(home, '_site/batches/first-pale/kettle-sheet.pdf');
  expect(readFileSync(sheet).subarray(0, 5).toString()).toBe('%PDF-');
  expect(readFileSync(join(home, '_site/index.html'), 'utf8')).toContain('First Pale');

  const keyed = kettleside(
    'key-in',
    'first-pale',
    '--set',
    'original_gravity=1.044 @ 20 °C',
    '--set',
    'boil_started=2:50 PM',
  );
  expect(keyed.code, keyed.out).toBe(0);
  expect(readFileSync(batch, 'utf8')).toMatch(
    /^readings:\n {2}boil_started: 14:50\n {2}original_gravity: 1\.044 @ 20 °C\n/m,
  );
  expect(kettleside('check').out).toMatch(/^1 batch file: 1 fine/m);

  expect(listed()).toEqual(before);
  const own = readdirSync(home).filter((name) => name !== 'node_modules');
  expect(own.sort()).toEqual(['.cache', '_site', 'content']);
});
