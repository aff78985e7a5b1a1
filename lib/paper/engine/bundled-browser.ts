/** The browser inside an optional npm package: unpacked once, into a folder of this user's cache. */

import { execFile } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { mkdir, readdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { isAlive } from '../../archive/write/write-whole.ts';
import { firstLine, SheetFaultError, sheetFault, writeFault } from './faults.ts';
import { osCacheFolder } from './os-cache.ts';

const PACKAGE = '@sparticuz/chromium';
const FOLDER = /^browser-\d+(?:\.\d+)*$/;
const MARK = 'complete.json';
const UNPACK_LIMIT_MS = 120_000;
const OLD_MS = 30 * 24 * 3600 * 1000;

/** Where the bundled browser is or will be, and its version; `undefined` without the package. */
export function bundledBrowser(
  env: Readonly<Record<string, string | undefined>>,
  home: string,
): { path: string; version: string } | undefined {
  const entry = packageEntry();
  if (entry === undefined) return undefined;
  const version = packageVersion(entry);
  return {
    path: join(osCacheFolder(env, process.platform, home), `browser-${version}`, 'chromium'),
    version,
  };
}

/**
 * Unpacks the bundled browser where it is not whole, and returns the settings it needs in its environment.
 *
 * It is unpacked beside its place and then moved there in one step, so that a half-unpacked folder is never
 * taken for a whole one, and of two processes that unpack at once the second finds the work done.
 */
export async function ensureUnpacked(found: { path: string }): Promise<Record<string, string>> {
  const folder = dirname(found.path);
  // Whatever lies there is replaced: never in a folder that this module did not name.
  if (!FOLDER.test(basename(folder))) throw unpackFault(folder, 'that is no folder for a bundled browser');
  if (!(await isWhole(folder))) await unpackTo(folder);
  const now = new Date();
  await utimes(join(folder, MARK), now, now).catch(() => undefined);
  return environmentOf(folder);
}

function environmentOf(folder: string): Record<string, string> {
  const libraries = join(folder, 'al2023', 'lib');
  const others = process.env.LD_LIBRARY_PATH;
  return {
    LD_LIBRARY_PATH: others ? `${libraries}:${others}` : libraries,
    FONTCONFIG_FILE: join(folder, 'fonts.conf'),
  };
}

async function unpackTo(folder: string): Promise<void> {
  const entry = packageEntry();
  const home = dirname(folder);
  if (entry === undefined) throw unpackFault(folder, `${PACKAGE} is not installed`);
  const staging = join(home, `.unpack-${process.pid}-${Date.now().toString(36)}`);
  try {
    await mkdir(staging, { recursive: true });
    await runUnpacking(entry, staging);
    await writeFile(join(staging, 'fonts.conf'), fontsConf(folder));
    await writeFile(join(staging, MARK), JSON.stringify(await sizesIn(staging)));
    await moveInto(staging, folder);
  } catch (thrown) {
    if (thrown instanceof SheetFaultError) throw thrown;
    const fault = writeFault(thrown, folder);
    throw fault.code === 'disk-full' ? new SheetFaultError(fault) : unpackFault(folder, firstLine(thrown));
  } finally {
    await rm(staging, { recursive: true, force: true });
  }
  await tidy(home, folder);
}

/**
 * The package reads its settings when it is imported and unpacks into the system's temporary folder: a process
 * of its own keeps both away from this one.
 */
function runUnpacking(entry: string, folder: string): Promise<void> {
  const script =
    'const { default: browser } = await import(process.argv[1]); await browser.executablePath();';
  const env = { ...process.env, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs22.x', TMPDIR: folder };
  const args = ['--input-type=module', '-e', script, pathToFileURL(entry).href];
  return new Promise((done, fail) => {
    execFile(process.execPath, args, { env, timeout: UNPACK_LIMIT_MS }, (fault, _, complaint) => {
      if (!fault) return done();
      const full = /ENOSPC|EDQUOT/.exec(complaint)?.[0];
      fail(
        full ? Object.assign(new Error(complaint), { code: full }) : new Error(complaint || fault.message),
      );
    });
  });
}

async function moveInto(staging: string, folder: string): Promise<void> {
  if (existsSync(folder) && !(await isWhole(folder))) {
    const aside = `${staging}-broken`;
    await rename(folder, aside).catch(() => undefined);
    await rm(aside, { recursive: true, force: true });
  }
  try {
    await rename(staging, folder);
  } catch (thrown) {
    if (!(await isWhole(folder))) throw thrown;
  }
}

/** Whether every file that was unpacked is there in its full length. */
export async function isWhole(folder: string): Promise<boolean> {
  try {
    const sizes: unknown = JSON.parse(await readFile(join(folder, MARK), 'utf8'));
    if (typeof sizes !== 'object' || sizes === null || !('chromium' in sizes)) return false;
    for (const [name, size] of Object.entries(sizes)) {
      if ((await stat(join(folder, name))).size !== size) return false;
    }
    return true;
  } catch {
    return false;
  }
}

async function sizesIn(folder: string): Promise<Record<string, number>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const sizes: Record<string, number> = {};
  for (const entry of entries.filter((one) => one.isFile())) {
    const path = join(entry.parentPath ?? entry.path, entry.name);
    sizes[relative(folder, path)] = (await stat(path)).size;
  }
  return sizes;
}

/** Removes what killed processes left half unpacked, and versions that nobody has started for a month. */
async function tidy(home: string, current: string): Promise<void> {
  for (const name of await readdir(home).catch(() => [])) {
    const path = join(home, name);
    const pid = /^\.unpack-(\d+)-/.exec(name)?.[1];
    const left = pid !== undefined && !isAlive(Number(pid));
    const old = name.startsWith('browser-') && path !== current && (await isOld(join(path, MARK)));
    if (left || old) await rm(path, { recursive: true, force: true });
  }
}

async function isOld(path: string): Promise<boolean> {
  const { mtimeMs } = await stat(path).catch(() => ({ mtimeMs: 0 }));
  return Date.now() - mtimeMs > OLD_MS;
}

/** The package's own settings point to a folder of another system. */
function fontsConf(folder: string): string {
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <include ignore_missing="yes">/etc/fonts/fonts.conf</include>
  <dir>${escaped(join(folder, 'fonts'))}</dir>
  <cachedir>${escaped(join(folder, 'fonts-cache'))}</cachedir>
</fontconfig>
`;
}

function escaped(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;');
}

function packageEntry(): string | undefined {
  try {
    return createRequire(import.meta.url).resolve(PACKAGE);
  } catch {
    return undefined;
  }
}

/** The package hides its package.json from being imported: it is read as a file. */
function packageVersion(entry: string): string {
  for (let folder = dirname(entry); folder !== dirname(folder); folder = dirname(folder)) {
    const file = join(folder, 'package.json');
    const described: unknown = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined;
    if (typeof described !== 'object' || described === null) continue;
    if (!('name' in described) || described.name !== PACKAGE) continue;
    if ('version' in described && typeof described.version === 'string') return described.version;
  }
  return '0';
}

function unpackFault(folder: string, reason: string): SheetFaultError {
  return new SheetFaultError(sheetFault('browser-start', { folder, reason, unpacking: '' }));
}
