// @ts-check
/**
 * Lays a sheet out in pages, in the reader's own browser and in the one that prints the PDF.
 *
 * Load it before the paginator, both as plain external scripts; the paginator is long and may wait:
 *
 *   <script src="…/sheet-screen.js"></script>
 *   <script defer src="…/paged.polyfill.js"></script>
 *
 * The reader sees the sheet without pages until all pages are ready. Then it is `<html data-sheet="ready"
 * data-pages="3">`; when that was not possible, `data-sheet="failed"` with the reason in `data-sheet-reason`.
 * `window.kettlesideSheet` is a promise of `{ pages }` that rejects with the same reason; the events
 * `kettleside:ready` and `kettleside:failed` on `document` say it too. The address may end in
 * `#paper=letter&type=larger`: the sheet is then laid out for that paper, or in type a fifth larger, on as many
 * pages as that takes. Elements marked `data-screen-only` directly in the body (a print button, say) are no part
 * of the sheet and stay as they are.
 */
(() => {
  /**
   * @typedef {{ pages: number }} Laid
   * @typedef {{ source: DocumentFragment, pages: unknown[] }} Chunker
   * @typedef {{ preview(): Promise<{ total: number }>, chunker: Chunker }} Previewer
   * @typedef {new (...given: unknown[]) => { chunker: Chunker }} HandlerClass
   * @typedef {{ Previewer: new () => Previewer, Handler: HandlerClass, registerHandlers(given: HandlerClass): void }} Paginator
   * @typedef {{ PagedConfig?: object, Paged?: Paginator, kettlesideSheet?: Promise<Laid>, kettlesideLayOut?: () => Promise<Laid> }} Exposed
   */
  const page = /** @type {Window & Exposed} */ (window);
  const root = document.documentElement;

  // The paginator reads this as it loads; without it, it starts by itself before the fonts are there.
  page.PagedConfig = { auto: false };

  /** @returns {Promise<void>} */
  const documentParsed = () =>
    document.readyState === 'loading'
      ? new Promise((done) => document.addEventListener('DOMContentLoaded', () => done(), { once: true }))
      : Promise.resolve();

  /** Starts every declared face, also those that only a later page needs, then waits for all of them. */
  const fontsLoaded = async () => {
    const faces = [...document.fonts];
    await Promise.allSettled(faces.map((face) => face.load()));
    await document.fonts.ready;
  };

  // Until the typeface is there nothing of the sheet is seen: lines would break elsewhere, and move.
  root.dataset.fonts = 'waiting';
  fontsLoaded().then(() => root.removeAttribute('data-fonts'));

  /**
   * The paginator rebuilds a split table without its head. The head is put in as soon as the rest of the
   * table gets its first row, so that the space it takes is counted when the page is filled.
   * @param {HandlerClass} Handler
   */
  const repeatTableHeads = (Handler) =>
    class extends Handler {
      /** @param {Node} rendered @param {Node} source */
      renderNode(rendered, source) {
        if (!(rendered instanceof Element)) return;
        const table = rendered.closest('table[data-split-from]');
        if (!(table instanceof HTMLTableElement) || table.dataset.headRepeated) return;
        const origin = source instanceof Element ? source.closest('table') : null;
        if (!origin) return;
        table.dataset.headRepeated = 'yes';
        if (table.tHead || !origin.tHead) return;
        /** @type {Node[]} */
        const repeated = [...origin.querySelectorAll(':scope > colgroup'), origin.tHead].map((part) =>
          copyOf(part),
        );
        table.prepend(...repeated);
      }
    };

  /**
   * A copy without the marks by which the paginator finds the original again, and without the identifiers
   * and fields that must be on the sheet only once.
   * @param {Element} original
   */
  const copyOf = (original) => {
    const copy = /** @type {Element} */ (original.cloneNode(true));
    for (const part of [copy, ...copy.querySelectorAll('*')]) {
      for (const name of ['data-ref', 'data-id', 'id', 'data-field']) part.removeAttribute(name);
    }
    copy.setAttribute('data-repeated', '');
    return copy;
  };

  /**
   * When something does not fit, the paginator says so on the console only and leaves the rest out.
   * @param {DocumentFragment} source
   * @param {Element} pages
   */
  const leftOut = (source, pages) => {
    const placed = new Set(
      [...pages.querySelectorAll('[data-ref]')].map((part) => part.getAttribute('data-ref')),
    );
    return [...source.querySelectorAll('[data-ref]')].find(
      (part) => !placed.has(part.getAttribute('data-ref')) && !part.closest('[data-undisplayed]'),
    );
  };

  /** A fifth: steps of 18 pt become 21.6, tables of 14 pt 16.8. */
  const LARGER = 1.2;
  /** Captions that are read pen in hand stay: the boxes beside them do not grow either. */
  const CAPTION_PT = 12;
  const PAPERS = ['a4', 'letter'];
  const A4_MM = 210;
  const LETTER_MM = 215.9;
  const SHEET_STYLES = 'style:not([data-pagedjs-ignore])';

  /** What the end of the address asks for. */
  const asked = () => new URLSearchParams(location.hash.slice(1));

  /** Leaves only the style of the paper asked for, and sets type larger where that is asked for. */
  const choose = () => {
    const wanted = asked();
    const paper = wanted.get('paper') ?? '';
    if (PAPERS.includes(paper)) root.dataset.paper = paper;
    for (const style of document.querySelectorAll('style[data-for-paper]')) {
      if (style.getAttribute('data-for-paper') !== root.dataset.paper) style.remove();
    }
    if (wanted.get('type') !== 'larger') return root.removeAttribute('data-type');
    root.dataset.type = 'larger';
    for (const style of document.querySelectorAll(SHEET_STYLES)) {
      style.textContent = (style.textContent ?? '').replace(/font-size:\s*([\d.]+)pt/g, (whole, size) =>
        Number(size) > CAPTION_PT ? `font-size: ${(Number(size) * LARGER).toFixed(1)}pt` : whole,
      );
    }
  };

  /** The parts of the body that make up the sheet. */
  const sheetParts = () =>
    [...document.body.children].filter((part) => !part.matches('script, [data-screen-only]'));

  /** @type {{ paper: string | undefined, styles: Node[], body: Node[] } | undefined} */
  let unpaged;

  /** Keeps what is in the document before it is cut into pages. */
  const keep = () => {
    unpaged = {
      paper: root.dataset.paper,
      styles: [...document.querySelectorAll(SHEET_STYLES)].map((style) => style.cloneNode(true)),
      body: sheetParts().map((part) => part.cloneNode(true)),
    };
  };

  /** Puts the document back as it was before it was cut into pages. */
  const restore = () => {
    if (!unpaged) return;
    if (unpaged.paper) root.dataset.paper = unpaged.paper;
    for (const style of document.querySelectorAll(SHEET_STYLES)) style.remove();
    document.head.append(...unpaged.styles.map((style) => style.cloneNode(true)));
    for (const part of sheetParts()) part.remove();
    document.body.append(...unpaged.body.map((part) => part.cloneNode(true)));
  };

  let prepared = false;

  /** Once per page: the paginator's handlers, and screen parts kept off the paper whatever the styles say. */
  const prepare = () => {
    const paginator = page.Paged;
    if (!paginator) throw new Error('the paginator did not load');
    if (prepared) return paginator;
    paginator.registerHandlers(repeatTableHeads(paginator.Handler));
    const offPaper = new CSSStyleSheet();
    offPaper.replaceSync('@media print { [data-screen-only] { display: none !important } }');
    document.adoptedStyleSheets.push(offPaper);
    prepared = true;
    return paginator;
  };

  /**
   * Lays out what is in the document now. The printing program calls it again after it has put another
   * sheet in the place of the first one.
   * @returns {Promise<Laid>}
   */
  const layOut = async () => {
    await documentParsed();
    keep();
    return cutIntoPages();
  };

  /**
   * @param {boolean} [settled] whether it is known which parts share a page
   * @returns {Promise<Laid>}
   */
  const cutIntoPages = async (settled = false) => {
    const paginator = prepare();
    choose();
    const shown = sheetParts();
    // The paginator takes what it lays out from here, and leaves the rest of the body alone.
    const content = document.createElement('template');
    content.dataset.ref = 'pagedjs-content';
    content.innerHTML = shown.map(onPages).join('\n');
    document.body.append(content);
    try {
      await fontsLoaded();
      const previewer = new paginator.Previewer();
      const flow = await previewer.preview();
      const pages = document.querySelector('.pagedjs_pages');
      if (!pages) throw new Error('the paginator made no page');
      const lost = leftOut(previewer.chunker.source, pages);
      if (lost) throw new Error(`no page has room for <${lost.localName}> "${shortText(lost)}"`);
      if (!settled && joins(pages)) {
        restore();
        document.querySelector('.turn')?.classList.remove('turn');
        return await cutIntoPages(true);
      }
      repeatMarks(pages);
      spread(pages);
      drawStrips(pages);
      pages.setAttribute('role', 'main');
      return { pages: flow.total };
    } finally {
      for (const part of shown) part.remove();
    }
  };

  /** A part as it is cut: of several pages none is the main part, but all of them. @param {Element} part */
  const onPages = (part) =>
    part.localName === 'main' ? `<div class="sheet">${part.innerHTML}</div>` : part.outerHTML;

  /** How full a page is, 0 to 1. @param {Element | undefined} sheet */
  const fillOf = (sheet) => {
    const room = sheet?.querySelector('.pagedjs_page_content')?.getBoundingClientRect();
    const blocks = [...(sheet?.querySelectorAll('.part > *') ?? [])].map((block) =>
      block.getBoundingClientRect(),
    );
    return room ? Math.max(0, ...blocks.map(({ bottom }) => bottom - room.top)) / room.height : 0;
  };

  /** A page on the wall that is less full than this goes on with what comes after it. */
  const LEAST_FILL = 0.8;
  const ALL_BUT_FULL = 0.97;

  /** Whether the part that turns the page goes on in place of that. @param {Element} pages */
  const joins = (pages) => {
    const sheets = [...pages.children];
    const at = sheets.findIndex((sheet) => sheet.querySelector('.turn:not([data-split-from])'));
    if (at < 1) return false;
    const before = fillOf(sheets[at - 1]);
    const whole = at === sheets.length - 1 && before + fillOf(sheets[at]) <= ALL_BUT_FULL;
    return whole || before < LEAST_FILL;
  };

  /** 3 mm between the blocks of a last page. */
  const MOST_BETWEEN_PX = (3 * 96) / 25.4;

  /** What is left over goes between the blocks of a page; on the last one no more than they need. @param {Element} pages */
  const spread = (pages) => {
    for (const sheet of pages.children) {
      const own = /** @type {HTMLElement | null} */ (sheet.querySelector('.sheet'));
      const filled = fillOf(sheet);
      if (!own?.querySelector('.part') || filled >= ALL_BUT_FULL) continue;
      own.setAttribute('data-spread', '');
      if (sheet !== pages.lastElementChild) continue;
      const left = (ALL_BUT_FULL - filled) * own.getBoundingClientRect().height;
      const blocks = own.querySelectorAll('.part > :not(.together), .together > *').length;
      own.style.rowGap = `${Math.min(MOST_BETWEEN_PX, left / blocks)}px`;
    }
  };

  /** What goes on over the end of a page goes on at the same minute. @param {Element} pages */
  const repeatMarks = (pages) => {
    for (const part of pages.querySelectorAll('.part[data-split-from]')) {
      const marks = [...pages.querySelectorAll('.mark')];
      const mark = part.querySelector('.mark');
      const before = marks
        .slice(0, mark ? marks.indexOf(mark) : 0)
        .findLast((one) => one.matches('.notched'));
      if (mark && before && !mark.matches('.notched')) mark.replaceWith(before.cloneNode(true));
    }
  };

  /** The 64 cells of a strip, most significant bit first, as stretches of black. @param {string} digits */
  const stripPath = (digits) => {
    const bits = [...digits].flatMap((digit) =>
      [8, 4, 2, 1].map((bit) => (Number.parseInt(digit, 16) & bit) > 0),
    );
    let path = '';
    for (let from = 0; from < bits.length; from += 1) {
      let to = from;
      while (bits[to]) to += 1;
      if (to > from) path += `M${from} 0H${to}V1H${from}z`;
      from = to;
    }
    return path;
  };

  /** Each page gets its own strip, by which a photograph shows which it is. @param {Element} pages */
  const drawStrips = (pages) => {
    const strips = pages.querySelector('[data-strips]')?.getAttribute('data-strips')?.split(' ') ?? [];
    for (const [at, box] of pages.querySelectorAll('.pagedjs_pagebox').entries()) {
      const digits = strips[at];
      if (digits === undefined) continue;
      const drawing = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
      for (const [name, value] of [
        ['class', 'strip'],
        ['viewBox', '0 0 64 1'],
        ['preserveAspectRatio', 'none'],
        ['aria-hidden', 'true'],
      ])
        drawing.setAttribute(name, value);
      const path = document.createElementNS(drawing.namespaceURI, 'path');
      path.setAttribute('d', stripPath(digits));
      drawing.append(path);
      box.append(drawing);
    }
  };

  /** @param {Element} part */
  const shortText = (part) => (part.textContent ?? '').replace(/\s+/g, ' ').trim().slice(0, 60);

  /** @param {Promise<Laid>} laid */
  const tell = (laid) =>
    laid.then(
      ({ pages }) => {
        root.dataset.pages = String(pages);
        root.dataset.sheet = 'ready';
        showChoices(pages);
        fitToWidth();
        document.dispatchEvent(new CustomEvent('kettleside:ready', { detail: { pages } }));
      },
      (reason) => {
        root.dataset.sheetReason = reason instanceof Error ? reason.message : String(reason);
        root.dataset.sheet = 'failed';
        document.dispatchEvent(
          new CustomEvent('kettleside:failed', { detail: { reason: root.dataset.sheetReason } }),
        );
      },
    );

  /** Pages no wider than the screen; paper keeps its size. */
  const fitToWidth = () => {
    const width_px = ((root.dataset.paper === 'letter' ? LETTER_MM : A4_MM) * 96) / 25.4;
    root.style.setProperty('--fit', Math.min(1, root.clientWidth / width_px).toFixed(3));
  };
  fitToWidth();
  window.addEventListener('resize', fitToWidth);

  /** @param {number} pages */
  const showChoices = (pages) => {
    for (const button of document.querySelectorAll('[data-sheet-set]')) {
      const [name = '', value] = (button.getAttribute('data-sheet-set') ?? '').split('=');
      button.setAttribute('aria-pressed', String(root.getAttribute(`data-${name}`) === value));
    }
    const count = document.querySelector('[data-sheet-pages]');
    if (count) count.textContent = `${pages} ${pages === 1 ? 'page' : 'pages'}`;
  };

  /** @param {string} name @param {string} value */
  const change = (name, value) => {
    const wanted = asked();
    const on = root.getAttribute(`data-${name}`) === value;
    if (name === 'type' && on) wanted.delete(name);
    else wanted.set(name, value);
    location.hash = wanted.toString();
  };

  document.addEventListener('click', ({ target }) => {
    const button = target instanceof Element ? target.closest('button') : null;
    if (button?.hasAttribute('data-sheet-print')) window.print();
    const [name, value] = (button?.getAttribute('data-sheet-set') ?? '').split('=');
    if (name && value) change(name, value);
  });

  /** @type {Promise<Laid>} */
  const laid = layOut();
  page.kettlesideSheet = laid;
  page.kettlesideLayOut = layOut;
  tell(laid);

  /** One change of the address after the other: the paginator cannot do two at once. */
  let turn = Promise.resolve(laid).then(
    () => undefined,
    () => undefined,
  );
  window.addEventListener('hashchange', () => {
    turn = turn.then(() => {
      root.removeAttribute('data-sheet');
      restore();
      return tell(cutIntoPages());
    });
  });
})();
