import { readSlug } from '../../archive/schema/scalars.ts';

/** Letters that do not come apart into a plain one and an accent. */
const WRITTEN_AS: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ł: 'l',
  ı: 'i',
  '&': ' and ',
};

/** The file name, without its ending, for a title; null where the title has too few plain letters for one. */
export function slugFor(title: string): string | null {
  const slug = title
    .toLowerCase()
    .replaceAll(/[ßæœøđðþłı&]/g, (sign) => WRITTEN_AS[sign] ?? sign)
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[\p{M}'’]/gu, '')
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, 80)
    .replaceAll(/^-+|-+$/g, '');
  return readSlug(slug).ok ? slug : null;
}
