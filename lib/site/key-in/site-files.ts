import type { Environment } from 'nunjucks';
import { batchCalendar } from '../../view/calendar.ts';
import { blanksOf } from '../../view/key-in.ts';
import { rawReadings } from '../../view/key-in-raw.ts';
import { safeSlug } from '../paths.ts';
import type { Published, SiteEntry } from '../site.ts';
import { statusOf } from '../views/status.ts';
import { emptyState } from './form-view.ts';
import { offlinePage } from './pages.ts';
import type { Opened } from './session.ts';

/** Whether anything of a batch is still to be keyed in: once it has been tasted, or given up, the form is put away. */
export const isOpen = ({ batch }: SiteEntry): boolean => !['tasted', 'abandoned'].includes(statusOf(batch));

/** Nobody has more batches under way; a form is the slowest page to make, and an archive may hold thousands of plans. */
const MOST_FORMS = 24;

/** The forms of the newest batches that are still open, and the calendars of all that have one, by path below the top folder. */
export function keyInFiles(site: Published, environment: Environment): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  const host = site.brewery.url === null ? null : new URL(site.brewery.url).hostname;
  const open = new Set(site.batches.filter(isOpen).slice(0, MOST_FORMS));
  for (const entry of site.batches) {
    const slug = safeSlug(entry.batch.slug);
    const calendar = batchCalendar(entry.batch, entry.plan, host);
    if (calendar !== null) files.set(`batches/${slug}/${slug}.ics`, calendar);
    if (open.has(entry)) {
      const opened = openedFor(entry, site);
      files.set(`batches/${slug}/key-in/index.html`, offlinePage(environment, opened, emptyState()));
    }
  }
  return files;
}

function openedFor({ batch, plan }: SiteEntry, { brewery }: Published): Opened {
  const raw = rawReadings(batch);
  return { brewery, slug: batch.slug, raw, batch, plan, blanks: blanksOf(batch, raw, brewery.units) };
}

/** Links of a batch's page to what is beside it; with a server behind the page, readings of any batch can be keyed in. */
export function keyInLinks(
  slug: string,
  files: ReadonlyMap<string, string>,
  served: boolean,
): readonly { readonly href: string; readonly text: string }[] {
  const has = (name: string) => files.has(`batches/${slug}/${name}`);
  return [
    ...(served || has('key-in/index.html') ? [{ href: 'key-in/index.html', text: 'Key in readings' }] : []),
    ...(has(`${slug}.ics`) ? [{ href: `${slug}.ics`, text: 'Calendar' }] : []),
  ];
}
