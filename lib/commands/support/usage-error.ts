import { didYouMean } from '../../units/parse/nearest.ts';

/** A command that was used wrongly: reported in one plain line, exit code 2. */
export class UsageError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'UsageError';
  }
}

export function noBatch(slug: string, known: readonly string[]): string {
  const near = didYouMean(slug, known, 1);
  return `There is no batch "${slug}"${near === '' ? '.' : `; ${near}`}`;
}
