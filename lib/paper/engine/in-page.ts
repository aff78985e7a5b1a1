/** The part of the engine that runs inside the browser's page. */

import type { BoxMm, SheetField } from './sheet.ts';

/** What the page reports of a sheet that is laid out. */
export interface PageReport {
  readonly kind: 'laid';
  readonly pages: number;
  readonly width_mm: number;
  readonly height_mm: number;
  readonly fields: readonly SheetField[];
  readonly overflow: readonly string[];
}

export type PageAnswer = PageReport | { readonly kind: 'failed'; readonly reason: string };

export interface PageEngine {
  /** Waits until the sheet that was just loaded is laid out, and measures it. */
  readonly loaded: () => Promise<PageAnswer>;
  /** Puts another sheet in this one's place; `undefined` when it needs other scripts or policies. */
  readonly next: (html: string, url: string) => Promise<PageAnswer | undefined>;
}

export interface PageWindow {
  kettlesideEngine: PageEngine;
  kettlesideSheet?: Promise<{ pages: number }>;
  kettlesideLayOut?: () => Promise<{ pages: number }>;
}

/**
 * Puts the engine into the page, before any script of the sheet runs.
 *
 * The browser gets this function as text: nothing outside of it can be used.
 */
export function installInPage(): void {
  const page = window as unknown as PageWindow;
  const MM_PER_PX = 25.4 / 96;
  /** Half a device pixel is rounding, more is a fault. */
  const SLACK_PX = 0.75;

  const STYLE_URL = /url\(\s*(["']?)([^"')]+)\1\s*\)/gi;

  const mm = (px: number): number => Math.round(px * MM_PER_PX * 100) / 100;
  const named = (part: Element): string => {
    const text = (part.textContent ?? '').replace(/\s+/g, ' ').trim().slice(0, 40);
    const field = part.getAttribute('data-field');
    return `<${part.localName}${field ? ` ${field}` : ''}> "${text}"`;
  };

  const sticksOut = (box: DOMRect, room: DOMRect): number =>
    Math.max(room.left - box.left, room.top - box.top, box.right - room.right, box.bottom - room.bottom);

  /**
   * Only the innermost element is named: its ancestors stick out because of it. The paginator's own wrapper
   * is left out: a margin at the top of the page pushes its empty end over the edge.
   */
  const overflowOf = (sheetPage: Element, number: number): string[] => {
    const area = sheetPage.querySelector('.pagedjs_page_content');
    if (!area) return [];
    const room = area.getBoundingClientRect();
    const paper = sheetPage.getBoundingClientRect();
    const told: { part: Element; words: string }[] = [];
    for (const part of sheetPage.querySelectorAll('.pagedjs_page_content > * *, .pagedjs_margin-content *')) {
      const box = part.getBoundingClientRect();
      if (box.width === 0 || box.height === 0) continue;
      const free = part.closest('[data-outside], .pagedjs_margin-content') !== null;
      const out = sticksOut(box, free ? paper : room);
      // What is too long for a page goes on in a second column, off the paper.
      if (!free && [...part.getClientRects()].some((piece) => piece.left >= room.right)) {
        told.push({ part, words: 'goes on past the end of its page' });
      } else if (out > SLACK_PX) {
        told.push({ part, words: `sticks out of its ${free ? 'paper' : 'page'} by ${mm(out)} mm` });
      } else if (!free && part instanceof HTMLElement && part.scrollWidth > part.clientWidth + 1) {
        if (part.clientWidth > 0) told.push({ part, words: 'holds more than its width' });
      }
    }
    return told
      .filter(({ part }) => !told.some((other) => other.part !== part && part.contains(other.part)))
      .map(({ part, words }) => `page ${number}: ${named(part)} ${words}`);
  };

  const fieldsOf = (sheetPage: Element, number: number): SheetField[] => {
    const paper = sheetPage.getBoundingClientRect();
    const boxOf = (part: Element): BoxMm => {
      const box = part.getBoundingClientRect();
      return {
        x: mm(box.left - paper.left),
        y: mm(box.top - paper.top),
        width: mm(box.width),
        height: mm(box.height),
      };
    };
    return [...sheetPage.querySelectorAll<HTMLElement>('[data-field]:not([data-split-from])')].map(
      (blank) => {
        const circle = sheetPage.querySelector(`[data-circle="${blank.dataset.field}"]`);
        return {
          id: blank.dataset.field ?? '',
          key: blank.dataset.key ?? '',
          meaning: blank.dataset.meaning ?? '',
          kind: blank.dataset.kind ?? '',
          page: number,
          box_mm: boxOf(blank),
          groups: [...blank.querySelectorAll<HTMLElement>('[data-part]')].map((group) => ({
            part: group.dataset.part ?? '',
            cells: [...group.querySelectorAll('.cell')].map((cell) => ({
              kind: [...cell.classList].find((name) => name !== 'cell') ?? '',
              text: cell.textContent ?? '',
              box_mm: boxOf(cell),
            })),
          })),
          circle_mm: circle === null ? null : boxOf(circle),
        };
      },
    );
  };

  /** A link to a file of this computer leads nowhere from paper and would put its folders into the PDF. */
  const dropFileLinks = (): void => {
    for (const link of document.querySelectorAll<HTMLAnchorElement>('a[href]')) {
      const inside = link.getAttribute('href')?.startsWith('#');
      if (link.protocol === 'file:' && !inside) link.removeAttribute('href');
    }
  };

  const measured = (pages: number): PageReport => {
    dropFileLinks();
    const sheetPages = [...document.querySelectorAll('.pagedjs_page')];
    const first = sheetPages[0]?.getBoundingClientRect();
    return {
      kind: 'laid',
      pages,
      width_mm: mm(first?.width ?? 0),
      height_mm: mm(first?.height ?? 0),
      fields: sheetPages.flatMap((sheetPage, at) => fieldsOf(sheetPage, at + 1)),
      overflow: sheetPages.flatMap((sheetPage, at) => overflowOf(sheetPage, at + 1)),
    };
  };

  const answerTo = async (laid: Promise<{ pages: number }>): Promise<PageAnswer> => {
    try {
      const { pages } = await laid;
      const unread = [...document.fonts].find((face) => face.status === 'error');
      if (unread) return { kind: 'failed', reason: `the font ${unread.family} cannot be read` };
      return measured(pages);
    } catch (thrown) {
      return { kind: 'failed', reason: thrown instanceof Error ? thrown.message : String(thrown) };
    }
  };

  /** What a document brings along that cannot be exchanged without loading it: scripts and policies. */
  const shellOf = (shown: Document, url: string): string | undefined => {
    const scripts = [...shown.querySelectorAll('script:not([data-screen-only])')];
    if (scripts.some((script) => !script.getAttribute('src'))) return undefined;
    const sources = scripts.map((script) => new URL(script.getAttribute('src') ?? '', url).href);
    const policies = [...shown.querySelectorAll('meta[http-equiv]')].map((meta) =>
      meta.getAttribute('content'),
    );
    return JSON.stringify([sources, policies]);
  };

  const exchangeFor = (parsed: Document, url: string): void => {
    for (const part of parsed.querySelectorAll('[src], image[href], use[href]')) {
      const name = part.hasAttribute('src') ? 'src' : 'href';
      const value = part.getAttribute(name) ?? '';
      if (!value.startsWith('#')) part.setAttribute(name, new URL(value, url).href);
    }
    for (const style of parsed.querySelectorAll('style')) {
      style.textContent = (style.textContent ?? '').replace(
        STYLE_URL,
        (whole, mark: string, value: string) =>
          /^(?:#|[a-z][a-z0-9+.-]*:)/i.test(value) ? whole : `url(${mark}${new URL(value, url).href}${mark})`,
      );
    }
    const root = document.documentElement;
    for (const { name } of [...root.attributes]) root.removeAttribute(name);
    for (const { name, value } of [...parsed.documentElement.attributes]) root.setAttribute(name, value);
    const head = [...parsed.head.children].filter((part) => !part.matches('script, meta[http-equiv]'));
    document.head.replaceChildren(...head);
    document.body.replaceWith(parsed.body);
  };

  let shell: string | undefined;

  page.kettlesideEngine = {
    async loaded() {
      if (document.readyState === 'loading') {
        await new Promise((done) => document.addEventListener('DOMContentLoaded', done, { once: true }));
      }
      if (!page.kettlesideSheet)
        return { kind: 'failed', reason: 'the script that lays it out did not load' };
      return answerTo(page.kettlesideSheet);
    },
    async next(html, url) {
      if (!page.kettlesideLayOut || !shell) return undefined;
      const parsed = new DOMParser().parseFromString(html, 'text/html');
      if (shellOf(parsed, url) !== shell) return undefined;
      exchangeFor(parsed, url);
      return answerTo(page.kettlesideLayOut());
    },
  };
  // Before any script of the sheet can listen: pagination takes the scripts of the body away.
  document.addEventListener('DOMContentLoaded', () => {
    shell = shellOf(document, location.href);
  });
}
