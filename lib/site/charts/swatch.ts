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

/** The same in fewer letters, for pages that show many. */
export const smallSwatch = (srgb: string | null): string =>
  srgb === null || !SRGB.test(srgb)
    ? ''
    : `<svg class="swatch" viewBox="0 0 18 24" aria-hidden="true"><path class="swatch-full" d="M1.5 1.5h15l-2 21h-11z" fill="${escapeText(srgb)}"/></svg>`;
