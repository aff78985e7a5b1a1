import type { Brewery } from '../../batch/brewery.ts';

/** What every page needs for its frame. */
export interface HeadView {
  readonly title: string;
  readonly description: string;
  readonly language: string;
  readonly siteName: string;
  /** The way back to the top folder, with explicit file names behind it so that pages work as plain files. */
  readonly root: string;
  readonly canonical: string | null;
  readonly author: string | null;
  /** False on pages that no search engine should list. */
  readonly listed: boolean;
}

/** Makes the frame's data; `path` is the page's own, below the top folder. */
export function headView(
  brewery: Brewery,
  path: string,
  title: string,
  description: string,
  listed = true,
): HeadView {
  const depth = path.split('/').length - 1;
  const address = path.replace(/(^|\/)index\.html$/, '$1');
  return {
    title,
    description,
    language: brewery.language,
    siteName: brewery.name,
    root: depth === 0 ? './' : '../'.repeat(depth),
    canonical: brewery.url === null || !listed ? null : new URL(address, brewery.url).href,
    author: brewery.author,
    listed,
  };
}
