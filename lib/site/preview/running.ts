/** What `npm start` tells the configuration of the site generator, which is loaded on its own. */
export interface Running {
  readonly token: string;
  /** Names of this computer in its network where others may ask; null where only this computer may. */
  readonly lan: ReadonlySet<string> | null;
  /** Where sheets are printed to, each batch in a folder of its own. */
  readonly printedTo: readonly string[];
}

const PLACE = Symbol.for('kettleside running server');
type Shared = typeof globalThis & { [PLACE]?: Running };

export function setRunning(running: Running): void {
  (globalThis as Shared)[PLACE] = running;
}

/** Null outside `npm start`: then nothing can be keyed in. */
export const running = (): Running | null => (globalThis as Shared)[PLACE] ?? null;
