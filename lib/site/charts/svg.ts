const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text made safe for an SVG or HTML element or attribute. */
export const escapeText = (text: string): string => text.replace(/[&<>"']/g, (c) => ESCAPES[c]!);

/** A coordinate with one decimal: enough for a screen, short in the file. */
export const at = (n: number): string => String(Math.round(n * 10) / 10);

/** Maps a domain to a range of the drawing. */
export function linear(
  from: readonly [number, number],
  to: readonly [number, number],
): (n: number) => number {
  const span = from[1] - from[0] || 1;
  return (n) => to[0] + ((n - from[0]) / span) * (to[1] - to[0]);
}

export const polyline = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${at(x)} ${at(y)}`).join('');

/** Round steps for a scale: about `count` of them, of 1, 2 or 5 times a power of ten. */
export function niceTicks(low: number, high: number, count: number): number[] {
  const raw = Math.max((high - low) / count, 1e-9);
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw - 1e-12)!;
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++)
    ticks.push(k === 0 ? 0 : k * step);
  return ticks;
}

/** An SVG that a reader can have read out: title and description, numbered so that a page can hold several. */
export function figureSvg(
  id: string,
  size: readonly [number, number],
  title: string,
  description: string,
  body: string,
): string {
  return (
    `<svg class="chart" viewBox="0 0 ${size[0]} ${size[1]}" role="img" aria-labelledby="${id}-t ${id}-d">` +
    `<title id="${id}-t">${escapeText(title)}</title><desc id="${id}-d">${escapeText(description)}</desc>${body}</svg>`
  );
}
