export interface MetaTag {
  readonly property: string;
  readonly content: string;
}

/** What a page's frame says of it. */
export interface PageFacts {
  readonly title: string;
  readonly description: string;
  readonly siteName: string;
  /** Null where the site has no address, or the page is not to be listed. */
  readonly canonical: string | null;
  readonly language: string;
}

/** A picture for links to a page. */
export interface LinkPicture {
  /** Full address. */
  readonly url: string;
  readonly words: string;
}

/** Width and height that link previews are made for (ogp.me leaves them open; 1.91 : 1 is common practice). */
export const PICTURE_SIZE = { width: 1200, height: 630 } as const;

/** `en-GB` as Open Graph writes it, `en_GB`; null for a language without a territory. */
const locale = (language: string): string | null => {
  const { region } = new Intl.Locale(language);
  return region === undefined ? null : `${new Intl.Locale(language).language}_${region}`;
};

/** Open Graph of a page (ogp.me); none where the site has no address or the page is not to be listed. */
export function openGraph(
  head: PageFacts,
  type: 'website' | 'article',
  picture: LinkPicture | null,
): readonly MetaTag[] {
  if (head.canonical === null) return [];
  const where = locale(head.language);
  const tags: MetaTag[] = [
    { property: 'og:title', content: head.title },
    { property: 'og:type', content: type },
    { property: 'og:url', content: head.canonical },
    { property: 'og:description', content: head.description },
    { property: 'og:site_name', content: head.siteName },
    ...(where === null ? [] : [{ property: 'og:locale', content: where }]),
  ];
  if (picture === null) return tags;
  return [
    ...tags,
    { property: 'og:image', content: picture.url },
    { property: 'og:image:type', content: 'image/png' },
    { property: 'og:image:width', content: String(PICTURE_SIZE.width) },
    { property: 'og:image:height', content: String(PICTURE_SIZE.height) },
    { property: 'og:image:alt', content: picture.words },
  ];
}
