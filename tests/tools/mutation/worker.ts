import { fork } from 'node:child_process';
import type { DryRun, Order, Outcome } from './messages.ts';

const TIME_LIMIT_MS = 120_000;

/** A process with all tests loaded, which runs them as it is told. */
export class Worker {
  readonly #child;
  readonly #ready: Promise<boolean>;

  /** @param mutant the one that is on already while the code is loaded, where it is to be so */
  constructor({ runner, scripts }: { runner: string; scripts: readonly string[] }, mutant = '') {
    this.#child = fork(runner, [mutant, ...scripts], { stdio: ['ignore', 'ignore', 'ignore', 'ipc'] });
    this.#ready = this.#next(15 * 60_000).then((message) => message !== null);
  }

  /** False where the tests could not even be loaded. */
  ready(): Promise<boolean> {
    return this.#ready;
  }

  /** The next message, or null where the process ended or took too long. */
  #next(timeLimit_ms: number): Promise<DryRun | Outcome | null> {
    const child = this.#child;
    return new Promise((resolve) => {
      const done = (message: unknown) => {
        clearTimeout(clock);
        child.off('message', done).off('exit', gone);
        resolve(message as DryRun | Outcome | null);
      };
      const gone = () => done(null);
      const clock = setTimeout(gone, timeLimit_ms);
      child.on('message', done).on('exit', gone);
    });
  }

  async dryRun(): Promise<DryRun> {
    await this.#ready;
    const answer = this.#next(30 * 60_000);
    this.#child.send('dry-run');
    const dry = await answer;
    if (dry?.kind !== 'dry-run') throw new Error('The tests could not be run.');
    return dry;
  }

  /** Null where no answer came in time: a loop that does not end. */
  async try(order: Order): Promise<Outcome | null> {
    if (!(await this.#ready)) return null;
    const answer = this.#next(TIME_LIMIT_MS);
    this.#child.send(order);
    const outcome = await answer;
    return outcome?.kind === 'outcome' ? outcome : null;
  }

  end(): void {
    this.#child.kill('SIGKILL');
  }
}
