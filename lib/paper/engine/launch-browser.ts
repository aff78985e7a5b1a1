/** Starts and ends the browser that prints; how it starts is part of the cache key. */

import type { Browser, BrowserContext, LaunchOptions } from 'playwright-core';
import { ensureUnpacked } from './bundled-browser.ts';
import { firstLine, SheetFaultError, sheetFault } from './faults.ts';
import type { FoundBrowser } from './find-browser.ts';
import { openContext } from './tab.ts';

/** No network, no first-run work, no waiting for a screen's next frame, and letters placed alike everywhere. */
export const LAUNCH_ARGS: readonly string[] = [
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-default-apps',
  '--disable-domain-reliability',
  '--disable-extensions',
  '--disable-sync',
  '--disable-frame-rate-limit',
  '--disable-gpu',
  '--disable-gpu-vsync',
  '--font-render-hinting=none',
  '--force-color-profile=srgb',
  '--hide-scrollbars',
  '--host-resolver-rules=MAP * ~NOTFOUND',
  '--metrics-recording-only',
  '--mute-audio',
  '--no-default-browser-check',
  '--no-first-run',
  '--no-pings',
];

const START_LIMIT_MS = 30_000;
const CLOSE_LIMIT_MS = 3_000;

/** A running browser, its context, and the number of its main process. */
export interface RunningBrowser {
  readonly browser: Browser;
  readonly context: BrowserContext;
  readonly pid: number | undefined;
}

/** What a call that was under way gets when the browser ends. */
export class BrowserGoneError extends Error {
  constructor() {
    super('the browser ended');
    this.name = 'BrowserGoneError';
  }
}

/**
 * What the work gives, or a `BrowserGoneError` as soon as the browser ends: a call that is under way then
 * (a page being opened, above all) may never be answered by itself.
 */
export async function whileRunning<T>(
  browser: Pick<Browser, 'isConnected' | 'once' | 'off'>,
  work: () => Promise<T>,
): Promise<T> {
  let end: () => void = () => undefined;
  const gone = new Promise<never>((_, fail) => {
    end = () => fail(new BrowserGoneError());
  });
  browser.once('disconnected', end);
  try {
    if (!browser.isConnected()) end();
    return await Promise.race([gone, work()]);
  } finally {
    browser.off('disconnected', end);
  }
}

/** Starts a browser that was found, once more where it crashes as it starts; throws the fault `browser-start`. */
export async function launchBrowser(found: FoundBrowser): Promise<RunningBrowser> {
  try {
    return await start(found).catch((thrown) => {
      if (!crashed(thrown)) throw thrown;
      return start(found);
    });
  } catch (thrown) {
    if (thrown instanceof SheetFaultError) throw thrown;
    const facts = { path: found.path, reason: reasonOf(thrown) };
    throw new SheetFaultError(sheetFault('browser-start', facts));
  }
}

/** How a browser that was found is started; the bundled one is unpacked first. */
export async function launchOptions(found: FoundBrowser): Promise<LaunchOptions> {
  const bundled = found.source === 'bundled' ? await ensureUnpacked(found) : undefined;
  return {
    executablePath: found.path,
    args: [...LAUNCH_ARGS],
    chromiumSandbox: wantsSandbox(process.env, process.getuid?.()),
    timeout: START_LIMIT_MS,
    env: { ...definedOf(process.env), ...bundled },
  };
}

async function start(found: FoundBrowser): Promise<RunningBrowser> {
  // Loaded here: it takes longer than all else of a command that finds every sheet printed.
  const { chromium } = await import('playwright-core');
  return withContext(await chromium.launch(await launchOptions(found)));
}

/** Whether the browser was ended by a signal, as by a fault of its own on a busy machine: the next time it may well start. */
const crashed = (thrown: unknown): boolean =>
  thrown instanceof BrowserGoneError ||
  (thrown instanceof Error && /process did exit: exitCode=null, signal=SIG/.test(thrown.message));

async function withContext(browser: Browser): Promise<RunningBrowser> {
  try {
    const [context, pid] = await whileRunning(browser, () =>
      Promise.all([openContext(browser), mainProcess(browser)]),
    );
    return { browser, context, pid };
  } catch (thrown) {
    await inTime(browser.close(), CLOSE_LIMIT_MS);
    throw thrown;
  }
}

/** Root cannot use the sandbox; anybody else does, unless they switched it off. */
export function wantsSandbox(env: NodeJS.ProcessEnv, uid: number | undefined): boolean {
  return uid !== 0 && env.KETTLESIDE_BROWSER_SANDBOX !== 'off';
}

/** Ends a browser, by force when it does not answer. */
export async function endBrowser(running: RunningBrowser): Promise<void> {
  if (await inTime(running.browser.close(), CLOSE_LIMIT_MS)) return;
  if (running.pid === undefined) return;
  try {
    process.kill(running.pid, 'SIGKILL');
  } catch {
    // It ended in the meantime.
  }
}

/** Whether something was done in time; what went wrong with it is of no interest any more. */
export async function inTime(work: Promise<unknown>, limit_ms: number): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<boolean>((tell) => {
    timer = setTimeout(() => tell(false), limit_ms);
  });
  const done = work.then(
    () => true,
    () => true,
  );
  const answer = await Promise.race([done, late]);
  clearTimeout(timer);
  return answer;
}

async function mainProcess(browser: Browser): Promise<number | undefined> {
  try {
    const session = await browser.newBrowserCDPSession();
    const { processInfo } = await session.send('SystemInfo.getProcessInfo');
    await session.detach();
    return processInfo.find((one) => one.type === 'browser')?.id;
  } catch {
    return undefined;
  }
}

function definedOf(env: NodeJS.ProcessEnv): Record<string, string> {
  const entries = Object.entries(env);
  return Object.fromEntries(entries.filter((entry): entry is [string, string] => entry[1] !== undefined));
}

/** The browser's own complaint, which is in the log below the first line. */
function reasonOf(thrown: unknown): string {
  const text = thrown instanceof Error ? thrown.message : String(thrown);
  const complaint = text
    .split('\n')
    .find((line) => /FATAL|error while loading|ERROR:|ENOENT|EACCES|sandbox/i.test(line));
  return (complaint ?? firstLine(thrown)).trim();
}
