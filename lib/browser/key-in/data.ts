import type { Batch } from '../../batch/types/batch.ts';
import type { Plan } from '../../batch/types/plan.ts';
import type { Raw } from '../../key-in/key-in.ts';
import type { Units } from '../../words/numbers.ts';

/** What the page of the form brings with it for its script, as JSON. */
export interface KeyInData {
  /** With a server the script only shows corrected values; without one it checks and makes the lines. */
  readonly mode: 'server' | 'offline';
  /**
   * Whether what is typed outlives a page that is closed by mistake: not where one row is typed, and where the page shows what was
   * sent from it, that is not overlaid by what was kept before.
   */
  readonly keeps: 'nothing' | 'typed' | 'sent';
  readonly slug: string;
  readonly units: Units;
  readonly batch: Batch;
  readonly targets: Plan['targets'];
  /** The readings as the file has them, every value as text. */
  readonly raw: Raw;
  /** Keys by the name of their first input. */
  readonly ids: Readonly<Record<string, string>>;
}
