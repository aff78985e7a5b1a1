import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { RoundOptions, RoundResult } from './round.ts';

/** A round takes seconds; this one hangs. */
export const ROUND_LIMIT_MS = 180_000;

/** Runs rounds in a thread that can be given up. */
export class Bench {
  #worker: Worker | null = null;

  run(options: RoundOptions): Promise<RoundResult | 'hang'> {
    this.#worker ??= new Worker(join(import.meta.dirname, 'worker.js'));
    const worker = this.#worker;
    return new Promise((resolve, reject) => {
      const late = setTimeout(() => {
        void this.close();
        resolve('hang');
      }, ROUND_LIMIT_MS);
      worker.removeAllListeners();
      worker.on('error', (thrown) => {
        clearTimeout(late);
        reject(thrown);
      });
      worker.on('message', (result: RoundResult) => {
        clearTimeout(late);
        resolve(result);
      });
      worker.postMessage(options);
    });
  }

  async close(): Promise<void> {
    await this.#worker?.terminate();
    this.#worker = null;
  }
}
