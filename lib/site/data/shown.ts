import type { SiteEntry } from '../site.ts';

/** True where the whole batch is on the site, not its recipe alone. */
export const isWhole = ({ batch }: SiteEntry): boolean => batch.publish === 'all';

/** Meaning of the column that every table has. */
export const SLUG = 'Name of the batch’s file, by which the tables belong together';
