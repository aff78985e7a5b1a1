import { chmodSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type FindBrowserOptions, findBrowser } from '../../../lib/paper/engine/find-browser.ts';
import { LAUNCH_ARGS, wantsSandbox } from '../../../lib/paper/engine/launch-browser.ts';
import { osCacheFolder } from '../../../lib/paper/engine/os-cache.ts';
import { Workplace } from './workplace.ts';

/** A system with these files on it and nothing else. */
const system = (
  files: readonly string[],
  changes: Partial<FindBrowserOptions> = {},
): Partial<FindBrowserOptions> => ({
  env: {},
  platform: 'linux',
  arch: 'x64',
  home: '/home/brewer',
  exists: (path) => files.includes(path),
  versionAt: async () => '150.0.1.2',
  bundled: () => undefined,
  ...changes,
});
const bundled = () => ({ path: '/cache/browser-1/chromium', version: '1' });
const PROGRAM_FILES = { PROGRAMFILES: 'C:\\Program Files', 'PROGRAMFILES(X86)': 'C:\\Program Files (x86)' };

describe('findBrowser', () => {
  it.each<[string, string[], Partial<FindBrowserOptions>, { path: string; source: string }]>([
    [
      'takes what is set before anything else',
      ['/opt/mine/browser', '/usr/bin/chromium'],
      { env: { KETTLESIDE_BROWSER: '/opt/mine/browser', PATH: '/usr/bin' } },
      { path: '/opt/mine/browser', source: 'setting' },
    ],
    [
      'takes a set name from the PATH',
      ['/usr/local/bin/my-browser', '/usr/bin/chromium'],
      { env: { KETTLESIDE_BROWSER: 'my-browser', PATH: '/usr/bin:/usr/local/bin' } },
      { path: '/usr/local/bin/my-browser', source: 'setting' },
    ],
    [
      'prefers the headless shell on the PATH, whatever the order of folders',
      ['/usr/bin/google-chrome', '/usr/bin/chromium', '/usr/local/bin/chromium-headless-shell'],
      { env: { PATH: '/usr/bin:/usr/local/bin' } },
      { path: '/usr/local/bin/chromium-headless-shell', source: 'path' },
    ],
    [
      'prefers the PATH to the usual places, and those to the bundled one',
      ['/opt/google/chrome/chrome', '/usr/bin/microsoft-edge-stable'],
      { env: { PATH: '/usr/bin' }, bundled },
      { path: '/usr/bin/microsoft-edge-stable', source: 'path' },
    ],
    [
      'finds Edge where Linux packages put it',
      ['/opt/microsoft/msedge/msedge'],
      { bundled },
      { path: '/opt/microsoft/msedge/msedge', source: 'installed' },
    ],
    [
      'comes to the bundled one last',
      [],
      { bundled },
      { path: '/cache/browser-1/chromium', source: 'bundled' },
    ],
    [
      'takes the bundled one before an installed one where that is set',
      ['/usr/bin/chromium'],
      { env: { KETTLESIDE_BROWSER: 'bundled', PATH: '/usr/bin' }, bundled },
      { path: '/cache/browser-1/chromium', source: 'bundled' },
    ],
    [
      'finds Chrome on macOS',
      ['/Applications/Google Chrome.app/Contents/MacOS/Google Chrome'],
      { platform: 'darwin', arch: 'arm64', bundled },
      { path: '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome', source: 'installed' },
    ],
    [
      "finds Edge among a user's own applications on macOS",
      ['/Users/lock/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge'],
      { platform: 'darwin', home: '/Users/lock' },
      {
        path: '/Users/lock/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
        source: 'installed',
      },
    ],
    [
      'finds Chrome on Windows before Edge',
      [
        'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
        'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
      ],
      { platform: 'win32', env: PROGRAM_FILES },
      { path: 'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe', source: 'installed' },
    ],
    [
      'finds the Edge that comes with Windows',
      ['C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe'],
      { platform: 'win32', env: PROGRAM_FILES, versionAt: async () => undefined },
      { path: 'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe', source: 'installed' },
    ],
    [
      'reads the PATH of Windows by its own rules',
      ['D:\\tools\\chromium.exe'],
      { platform: 'win32', env: { Path: 'C:\\Windows;D:\\tools' } },
      { path: 'D:\\tools\\chromium.exe', source: 'path' },
    ],
    [
      'passes over a program that does not run',
      ['/usr/bin/chromium-browser', '/usr/bin/google-chrome'],
      {
        env: { PATH: '/usr/bin' },
        versionAt: async (path) => (path.endsWith('chromium-browser') ? null : '150.0.1.2'),
      },
      { path: '/usr/bin/google-chrome', source: 'path' },
    ],
  ])('%s', async (_, files, changes, expected) => {
    expect(await findBrowser(system(files, changes))).toMatchObject(expected);
  });

  it.each<[string, Partial<FindBrowserOptions>, string]>([
    [
      'Linux x64',
      {},
      'Run npm install @sparticuz/chromium, or install chromium with your package manager. Or set KETTLESIDE_BROWSER to the program file of a Chromium-based browser.',
    ],
    [
      'the bundled one does not run on ARM',
      { arch: 'arm64', bundled },
      'Install chromium with your package manager. Or set KETTLESIDE_BROWSER to the program file of a Chromium-based browser.',
    ],
    [
      'macOS',
      { platform: 'darwin', arch: 'x64', bundled },
      'Install Google Chrome or Microsoft Edge into Applications. Or set KETTLESIDE_BROWSER to the program file of a Chromium-based browser.',
    ],
    [
      'Windows',
      { platform: 'win32', bundled },
      'Install Google Chrome, or repair Microsoft Edge. Or set KETTLESIDE_BROWSER to the program file of a Chromium-based browser.',
    ],
  ])('says what to do: %s', async (_, changes, mend) => {
    const missing = 'No browser that can print sheets was found.';
    expect(await findBrowser(system([], changes))).toEqual({ missing, mend });
  });

  it('does not pass over a setting that leads nowhere', async () => {
    const changes = { env: { KETTLESIDE_BROWSER: '/opt/none' }, bundled };
    expect(await findBrowser(system([], changes))).toEqual({
      missing: 'KETTLESIDE_BROWSER is set to /opt/none, and there is no such file.',
      mend: 'Correct it, or unset it.',
    });
  });

  it('says when what is set does not run', async () => {
    const changes = { env: { KETTLESIDE_BROWSER: '/opt/old' }, versionAt: async () => null };
    expect(await findBrowser(system(['/opt/old'], changes))).toEqual({
      missing: 'KETTLESIDE_BROWSER is set to /opt/old, which does not run.',
      mend: 'Correct it, or unset it.',
    });
  });

  it('asks a real program for its version', async () => {
    const place = new Workplace();
    const [works, fails] = [place.path('works'), place.path('fails')];
    writeFileSync(works, '#!/bin/sh\necho "Chromium 151.2.3.4 built on something"\n');
    writeFileSync(fails, '#!/bin/sh\necho "install it with another command" >&2\nexit 1\n');
    for (const path of [works, fails]) chmodSync(path, 0o755);
    const asked = (path: string) => findBrowser({ env: { KETTLESIDE_BROWSER: path } });
    expect(await asked(works)).toEqual({ path: works, source: 'setting', version: '151.2.3.4' });
    expect(await asked(fails)).toHaveProperty('missing');
    place.remove();
  });
});

describe('osCacheFolder', () => {
  it.each<[NodeJS.Platform, Record<string, string>, string]>([
    ['linux', {}, '/home/b/.cache/kettleside'],
    ['linux', { XDG_CACHE_HOME: '/var/c' }, '/var/c/kettleside'],
    // The XDG specification says that a relative path is to be ignored.
    ['linux', { XDG_CACHE_HOME: 'c' }, '/home/b/.cache/kettleside'],
    ['darwin', {}, '/home/b/Library/Caches/kettleside'],
    ['win32', { LOCALAPPDATA: 'C:\\L' }, 'C:\\L\\kettleside\\cache'],
  ])('%s %o', (platform, env, folder) => {
    expect(osCacheFolder(env, platform, '/home/b')).toBe(folder);
  });
});

describe('how a browser is started', () => {
  it('keeps the sandbox unless it cannot or must not', () => {
    expect(wantsSandbox({}, 1000)).toBe(true);
    expect(wantsSandbox({}, undefined)).toBe(true);
    expect(wantsSandbox({}, 0)).toBe(false);
    expect(wantsSandbox({ KETTLESIDE_BROWSER_SANDBOX: 'off' }, 1000)).toBe(false);
  });

  it('gives up no protection by its arguments', () => {
    const weakening =
      /single-process|no-sandbox|disable-web-security|disable-site-isolation|allow-running-insecure/;
    expect(LAUNCH_ARGS.filter((argument) => weakening.test(argument))).toEqual([]);
  });
});
