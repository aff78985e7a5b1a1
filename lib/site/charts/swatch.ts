import { escapeText } from './svg.ts';

const SRGB = /^#[0-9a-f]{6}$/i;

/** A small glass filled with the beer's colour; decoration beside a figure that says the same in words. */
export function swatchSvg(srgb: string | null): string {
  if (srgb === null || !SRGB.test(srgb)) return '';
  return (
    '<svg class="swatch" viewBox="0 0 18 24" aria-hidden="true" focusable="false">' +
    `<path d="M2.6 5.5h12.8l-1.5 16.2a1 1 0 0 1-1 .8H5.1a1 1 0 0 1-1-.8z" fill="${escapeText(srgb)}"/>` +
    '<path class="swatch-glass" d="M1.5 1.5h15l-1.9 20.3a1.3 1.3 0 0 1-1.3 1.2H4.7a1.3 1.3 0 0 1-1.3-1.2z"/></svg>'
  );
}

/** The glass once for a page that shows many: each of them is then a few letters. */
export const SWATCH_SYMBOL =
  '<svg class="hidden" aria-hidden="true" focusable="false"><symbol id="glass" viewBox="0 0 18 24">' +
  '<path d="M2.6 5.5h12.8l-1.5 16.2a1 1 0 0 1-1 .8H5.1a1 1 0 0 1-1-.8z" fill="currentColor"/>' +
  '<path class="swatch-glass" d="M1.5 1.5h15l-1.9 20.3a1.3 1.3 0 0 1-1.3 1.2H4.7a1.3 1.3 0 0 1-1.3-1.2z"/></symbol></svg>';

/** A glass of the page's symbol, filled with the beer's colour. */
export const smallSwatch = (srgb: string | null): string =>
  srgb === null || !SRGB.test(srgb)
    ? ''
    : `<svg class="swatch" color="${escapeText(srgb)}" aria-hidden="true"><use href="#glass"/></svg>`;
