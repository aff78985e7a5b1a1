/** What tests of pages and sheets share in one run: a browser, and folders that are built once. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { setTimeout as wait } from 'node:timers/promises';
import { type Browser, chromium, type Download } from 'playwright-core';
import { inject } from 'vitest';
import type { TestProject } from 'vitest/node';
import { findBrowser } from '../lib/paper/engine/find-browser.ts';
import { launchOptions } from '../lib/paper/engine/launch-browser.ts';
import { buildSite } from '../lib/site/build.ts';
import { loadDemo } from './browser/demo.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the shared browser answers; null where none was found. */
    browser: string | null;
    /** A folder that goes when the run ends. */
    sharedFolder: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(join(tmpdir(), 'kettleside-tests-'));
  project.provide('sharedFolder', folder);
  const found = await findBrowser();
  const options = 'missing' in found ? null : await launchOptions(found);
  // Pages are asked for from servers of the tests here; the contexts that must not reach a network are offline.
  const args = options?.args?.filter((arg) => !arg.startsWith('--host-resolver-rules'));
  const server = options && (await chromium.launchServer({ ...options, args: args ?? [] }));
  project.provide('browser', server?.wsEndpoint() ?? null);
  return async () => {
    await server?.close();
    rmSync(folder, { recursive: true, force: true });
  };
}

/** A connection to the shared browser; closing it closes only what was opened through it. */
export async function openBrowser(): Promise<Browser> {
  const address = inject('browser');
  if (address === null) throw new Error('no browser was found: npm install @sparticuz/chromium');
  return chromium.connect(address);
}

/** What a page gave to be saved. */
export const textOf = async (download: Download): Promise<string> => text(await download.createReadStream());

/** A folder that the first who asks for it builds, in whichever process; nobody may change what is in it. */
export async function builtOnce<T>(
  name: string,
  build: (dir: string) => Promise<T>,
): Promise<{ dir: string; result: T }> {
  const dir = join(inject('sharedFolder'), name);
  const done = `${dir}.json`;
  if (mkdirSync(`${dir}.lock`, { recursive: true }) !== undefined) {
    const result = await build(dir);
    writeFileSync(`${done}.part`, JSON.stringify(result ?? null));
    // Renamed, so that it is there whole or not at all.
    renameSync(`${done}.part`, done);
  }
  while (!existsSync(done)) await wait(50);
  return { dir, result: JSON.parse(readFileSync(done, 'utf8')) };
}

/** The folder of the demo's built site, the same for all tests: nothing may be changed in it. */
export async function demoSite(): Promise<string> {
  const { dir } = await builtOnce('demo', async (outputDir) => {
    const { loaded } = await loadDemo();
    await buildSite({ contentDir: 'content', outputDir, data: loaded });
  });
  return dir;
}
