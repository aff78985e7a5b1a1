/** Finds a browser that can print: a setting, the PATH, the places where browsers install, the bundled one. */

import { execFile } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { posix, win32 } from 'node:path';
import { bundledBrowser } from './bundled-browser.ts';

export interface FoundBrowser {
  /** The bundled one is unpacked to this place when it is first started. */
  readonly path: string;
  readonly source: 'setting' | 'path' | 'installed' | 'bundled';
  readonly version?: string;
}

/** No browser: what was found instead, and what to do. */
export interface MissingBrowser {
  readonly missing: string;
  readonly mend: string;
}

/** Everything that is asked of the system, so that any system can be played in a test. */
export interface FindBrowserOptions {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
  readonly arch: string;
  readonly home: string;
  /** Whether a file of this path is there. */
  readonly exists: (path: string) => boolean;
  /** The version of the browser at a path, `null` when it does not run, `undefined` when it cannot be asked. */
  readonly versionAt: (path: string) => Promise<string | null | undefined>;
  /** The browser that came with the optional package, if that is installed. */
  readonly bundled: () => { path: string; version: string } | undefined;
}

const PATH_NAMES = [
  'chromium-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
];

/**
 * Says which browser will print, or what to install. `KETTLESIDE_BROWSER` is a path, a name on the PATH, or
 * `bundled` for the one of the optional package even where another is installed.
 */
export async function findBrowser(
  given: Partial<FindBrowserOptions> = {},
): Promise<FoundBrowser | MissingBrowser> {
  const system = { ...thisSystem(), ...given };
  const set = system.env.KETTLESIDE_BROWSER?.trim();
  if (set) return settingOf(set, system);
  for (const path of onPath(PATH_NAMES, system)) {
    const found = await usable(path, 'path', system);
    if (found) return found;
  }
  for (const path of installPlaces(system)) {
    const found = system.exists(path) ? await usable(path, 'installed', system) : undefined;
    if (found) return found;
  }
  return bundledOn(system) ?? whatToInstall(system);
}

function bundledOn(system: FindBrowserOptions): FoundBrowser | undefined {
  const bundled = system.platform === 'linux' && system.arch === 'x64' ? system.bundled() : undefined;
  return bundled && { ...bundled, source: 'bundled' };
}

async function settingOf(set: string, system: FindBrowserOptions): Promise<FoundBrowser | MissingBrowser> {
  if (set === 'bundled') return bundledOn(system) ?? whatToInstall(system);
  const mend = 'Correct it, or unset it.';
  const isPath = /[\\/]/.test(set);
  const path = isPath ? set : onPath([set], system)[0];
  if (path === undefined || !system.exists(path)) {
    return { missing: `KETTLESIDE_BROWSER is set to ${set}, and there is no such file.`, mend };
  }
  const found = await usable(path, 'setting', system);
  return found ?? { missing: `KETTLESIDE_BROWSER is set to ${set}, which does not run.`, mend };
}

async function usable(
  path: string,
  source: FoundBrowser['source'],
  system: FindBrowserOptions,
): Promise<FoundBrowser | undefined> {
  const version = await system.versionAt(path);
  if (version === null) return undefined;
  return version === undefined ? { path, source } : { path, source, version };
}

function onPath(names: readonly string[], system: FindBrowserOptions): string[] {
  const windows = system.platform === 'win32';
  const { join } = windows ? win32 : posix;
  const text = system.env.PATH ?? system.env.Path ?? '';
  const folders = text.split(windows ? ';' : ':').filter((folder) => folder !== '');
  const paths = names.flatMap((name) =>
    folders.map((folder) => join(folder, windows && !name.endsWith('.exe') ? `${name}.exe` : name)),
  );
  return paths.filter((path) => system.exists(path));
}

/** The same places in which playwright-core looks for its channels `chrome` and `msedge`. */
function installPlaces({ platform, env, home }: FindBrowserOptions): string[] {
  if (platform === 'win32') {
    const roots = [env.LOCALAPPDATA, env.PROGRAMFILES, env['PROGRAMFILES(X86)']].filter((root) => root);
    return ['Google\\Chrome\\Application\\chrome.exe', 'Microsoft\\Edge\\Application\\msedge.exe'].flatMap(
      (rest) => roots.map((root) => win32.join(root ?? '', rest)),
    );
  }
  if (platform === 'darwin') {
    const rests = [
      'Google Chrome.app/Contents/MacOS/Google Chrome',
      'Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
    ];
    return rests.flatMap((rest) =>
      ['/Applications', posix.join(home, 'Applications')].map((root) => posix.join(root, rest)),
    );
  }
  return ['/opt/google/chrome/chrome', '/opt/microsoft/msedge/msedge'];
}

function whatToInstall({ platform, arch }: FindBrowserOptions): MissingBrowser {
  const install =
    platform === 'darwin'
      ? 'Install Google Chrome or Microsoft Edge into Applications.'
      : platform === 'win32'
        ? 'Install Google Chrome, or repair Microsoft Edge.'
        : platform === 'linux' && arch === 'x64'
          ? 'Run npm install @sparticuz/chromium, or install chromium with your package manager.'
          : 'Install chromium with your package manager.';
  const mend = `${install} Or set KETTLESIDE_BROWSER to the program file of a Chromium-based browser.`;
  return { missing: 'No browser that can print sheets was found.', mend };
}

function thisSystem(): FindBrowserOptions {
  return {
    env: process.env,
    platform: process.platform,
    arch: process.arch,
    home: homedir(),
    exists: isFile,
    versionAt: process.platform === 'win32' ? versionBesides : versionSaid,
    bundled: () => bundledBrowser(process.env, homedir()),
  };
}

function isFile(path: string): boolean {
  return existsSync(path) && statSync(path).isFile();
}

const VERSION = /\d+(?:\.\d+){3}/;
const VERSION_LIMIT_MS = 10_000;

/** Asks the program; one that is only a signpost to a package manager fails here and is passed over. */
function versionSaid(path: string): Promise<string | null> {
  return new Promise((tell) => {
    execFile(path, ['--version'], { timeout: VERSION_LIMIT_MS }, (fault, said) => {
      tell(fault ? null : (VERSION.exec(said)?.[0] ?? null));
    });
  });
}

/** On Windows a browser opens a window when asked; its version is the name of a folder beside it. */
async function versionBesides(path: string): Promise<string | undefined> {
  const names = readdirSync(win32.dirname(path)).filter((name) => VERSION.test(name));
  return names.length === 1 ? names[0] : undefined;
}
