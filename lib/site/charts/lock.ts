import { escapeText } from './svg.ts';

const SRGB = /^#[0-9a-f]{6}$/i;

/**
 * A lock chamber between its banks, filled with water of the beer's colour, its gauge on the left wall. Decoration beside what
 * says the same in words; empty where the colour is not known.
 */
export function lockSvg(srgb: string | null): string {
  if (srgb === null || !SRGB.test(srgb)) return '';
  return (
    '<svg class="lock" viewBox="0 0 36 24" aria-hidden="true" focusable="false">' +
    `<path fill="${escapeText(srgb)}" d="M8 9h20v13H8z"/>` +
    '<path class="lock-bank" d="M8 3v19h20V3M0 3h10M26 3h10"/><path class="lock-gauge" d="M8 9h4M8 13h7M8 17h4"/></svg>'
  );
}
