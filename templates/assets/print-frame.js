// @ts-check
/**
 * Stands in the frame that a recipe's page prints from: waits for a sheet, lays it out with the sheets' own scripts and
 * hands it to the printer's dialogue. It takes a sheet from the page that holds it and from no other.
 */
(() => {
  const own = document.currentScript;
  const folder = own instanceof HTMLScriptElement ? new URL('.', own.src).href : '';
  const holder = window.parent;
  if (holder === window) return;

  /** @param {'waiting' | 'printed' | 'failed'} word */
  const tell = (word) => holder.postMessage({ kettleside: word }, '*');

  /** @param {string} name */
  const load = (name) => {
    const script = document.createElement('script');
    script.src = folder + name;
    // In the order in which they are put in: the second one lays out with the first.
    script.async = false;
    document.head.append(script);
  };

  document.addEventListener('kettleside:failed', () => tell('failed'));
  document.addEventListener('kettleside:ready', () => {
    window.focus();
    window.print();
    tell('printed');
  });

  let taken = false;
  window.addEventListener('message', (event) => {
    if (taken || event.source !== holder || event.origin !== window.origin) return;
    const { data } = event;
    if (typeof data !== 'object' || data === null || data.kettleside !== 'sheet') return;
    taken = true;
    document.title = String(data.title);
    document.documentElement.lang = String(data.language);
    const main = document.querySelector('main');
    if (main === null) return tell('failed');
    main.innerHTML = String(data.html);
    // Else the paginator starts by itself, before the fonts are there.
    Object.assign(window, { PagedConfig: { auto: false } });
    load('paged.polyfill.js');
    load('sheet-screen.js');
  });
  tell('waiting');
})();
