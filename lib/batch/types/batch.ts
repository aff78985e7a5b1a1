import type { z } from 'zod';
import type { printedFigures } from './plan-schema.ts';
import type { Readings } from './readings.ts';
import type { Recipe } from './recipe.ts';
import type { Setup } from './setup.ts';

/** A photograph in the folder of the batch, and what it shows, in words. */
export interface Picture {
  readonly file: string;
  readonly alt: string;
}

/** What a plan said when it was printed. */
export interface PrintedPlan {
  readonly revision: string;
  readonly targets: z.output<typeof printedFigures>;
}

/** One Markdown file, read, validated and with every ingredient looked up. */
export interface Batch {
  readonly slug: string;
  readonly title: string;
  readonly number: number | null;
  /** `2026-02-14`. */
  readonly brewed: string | null;
  /** `13:30`: the kettle goes on. */
  readonly start: string | null;
  readonly setup: Setup;
  readonly style: string | null;
  readonly tags: readonly string[];
  readonly basedOn: string | null;
  readonly pictures: readonly Picture[];
  readonly publish: 'all' | 'recipe' | 'nothing';
  readonly recipe: Recipe;
  readonly readings: Readings;
  /** The plan that hung on the wall, where it is known: readings are held against its figures. */
  readonly printed?: PrintedPlan;
  /** Markdown below the frontmatter. `private:` is not part of a batch: it never leaves the file. */
  readonly notes: string;
}
