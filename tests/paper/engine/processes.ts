/** Browsers that this test process started, found by parent and program; Linux only. */

import { readdirSync, readFileSync } from 'node:fs';

/** The numbers of this process's children that run the program. */
export function childrenRunning(program: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => parentOf(pid) === process.pid && commandOf(pid).startsWith(program));
}

/** Whether a browser has begun a process for a page, however deep below it. */
export function hasPage(browser: number): boolean {
  const processes = readdirSync('/proc').filter((name) => /^\d+$/.test(name));
  return processes.map(Number).some((pid) => {
    if (!commandOf(pid).includes('--type=renderer')) return false;
    for (let at = pid; at > 1; at = parentOf(at)) if (at === browser) return true;
    return false;
  });
}

function parentOf(pid: number): number {
  try {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    return Number(/^PPid:\s*(\d+)/m.exec(status)?.[1]);
  } catch {
    return -1;
  }
}

function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8');
  } catch {
    return '';
  }
}

/** Sends a signal to a process that this one started; it may be gone already. */
export function signal(pid: number, name: NodeJS.Signals): void {
  try {
    process.kill(pid, name);
  } catch {
    // Gone.
  }
}
