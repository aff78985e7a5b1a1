import type { Environment } from 'nunjucks';
import { batchCalendar, hasCalendar } from '../../words/calendar.ts';
import { statusOf } from '../pages/status.ts';
import { safeSlug } from '../paths.ts';
import type { Published, SiteEntry } from '../site.ts';
import { formPage } from './page.ts';
import type { PaperPlaces } from './printed.ts';
import { openedOf } from './session.ts';

/** Whether anything of a batch is still to be keyed in: once it has been tasted, or given up, the form is put away. */
export const isOpen = ({ batch }: SiteEntry): boolean => !['tasted', 'abandoned'].includes(statusOf(batch));

/** The calendars of all batches that have one, by path below the top folder, each made when it is asked for. */
export function calendarFiles(site: Published): ReadonlyMap<string, () => string> {
  const host = site.brewery.url === null ? null : new URL(site.brewery.url).hostname;
  return new Map(
    site.batches
      .filter(({ batch }) => hasCalendar(batch))
      .map((entry) => {
        const slug = safeSlug(entry.batch.slug);
        return [
          `batches/${slug}/${slug}.ics`,
          () => batchCalendar(entry.batch, entry.plan, host, site.brewery) ?? '',
        ] as const;
      }),
  );
}

/**
 * The forms of all batches that are still open, by path below the top folder, each made when it is asked for.
 *
 * @param places that list the paper of batches; without them a form names no pages
 */
export function formFiles(
  site: Published,
  environment: Environment,
  places: PaperPlaces | null = null,
): ReadonlyMap<string, () => string> {
  return new Map(
    site.batches.filter(isOpen).map((entry) => [
      `batches/${safeSlug(entry.batch.slug)}/key-in/index.html`,
      () => {
        const { batch, plan } = entry;
        const opened = openedOf(site.brewery, batch, site.rawOf(batch.slug), plan, places);
        return formPage(environment, opened, 'offline');
      },
    ]),
  );
}

/**
 * Links of a batch's page to what is beside it. With a server behind the page, readings of any batch can be keyed in, and a
 * beer that ferments is a single step from the next row of its log.
 */
export function keyInLinks(
  entry: SiteEntry,
  has: (path: string) => boolean,
  served: boolean,
): readonly { readonly href: string; readonly text: string }[] {
  const { slug } = entry.batch;
  const folder = `batches/${slug}`;
  const ferments = statusOf(entry.batch) === 'fermenting';
  return [
    ...(served && ferments ? [{ href: 'key-in/index.html#log', text: 'Add a row to the log' }] : []),
    ...(served || has(`${folder}/key-in/index.html`)
      ? [{ href: 'key-in/index.html', text: 'Key in readings' }]
      : []),
    ...(has(`${folder}/${slug}.ics`) ? [{ href: `${slug}.ics`, text: 'Calendar' }] : []),
  ];
}
