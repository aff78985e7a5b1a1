import { TARGETS } from '../../batch/types/targets.ts';
import type { Units } from '../../units/dimension.ts';
/** The picture that a link to a batch shows: its name, its colour, its figures. */
import { figureText } from '../../words/figures.ts';
import { lockSvg } from '../charts/lock.ts';
import { escapeText } from '../charts/svg.ts';
import { type SiteEntry, shownFigure } from '../site.ts';
import { FACTS } from './entries.ts';
import { PICTURE_SIZE } from './open-graph.ts';

/** Where the picture of a published batch or recipe lies, below the top folder. */
export const picturePath = (slug: string): string => `recipes/${slug}/picture.png`;

/** What the picture shows, for those who cannot see it. */
export const pictureWords = ({ batch }: SiteEntry): string =>
  `A lock filled with the colour of ${batch.title}${batch.style === null ? '' : `, ${batch.style}`}, with its figures.`;

/** A page of 1200 × 630 that brings everything with it; only what the recipe itself says is on it. */
export function pictureHtml(
  entry: SiteEntry,
  of: { readonly siteName: string; readonly units: Units; readonly fonts: { regular: string; bold: string } },
): string {
  const { batch, plan } = entry;
  const facts = FACTS.flatMap((key) => {
    const figure = shownFigure(entry, key);
    if (figure === null) return [];
    const { number, unit } = figureText(key, figure, of.units);
    return [
      `<div><dt>${TARGETS[key].label}</dt><dd>${escapeText(number)}<small> ${escapeText(unit)}</small></dd></div>`,
    ];
  });
  const long = batch.title.length > 32;
  return `<!doctype html><meta charset="utf-8"><style>
@font-face{font-family:F;src:url(${of.fonts.regular})}
@font-face{font-family:F;font-weight:700;src:url(${of.fonts.bold})}
*{margin:0;box-sizing:border-box}
body{width:${PICTURE_SIZE.width}px;height:${PICTURE_SIZE.height}px;padding:64px 72px;background:#f4f2ea;color:#17211f;font:30px/1.2 F,sans-serif;display:flex;flex-direction:column;justify-content:space-between;overflow:hidden}
header{display:flex;gap:48px;justify-content:space-between}
h1{font-size:${long ? 60 : 84}px;line-height:1.05;overflow-wrap:anywhere;display:-webkit-box;-webkit-line-clamp:3;-webkit-box-orient:vertical;overflow:hidden}
p{color:#4c5a57}
.lock{flex:none;width:324px;height:216px}.lock path+path{fill:none;stroke:#17211f;stroke-width:1.4}
dl{display:flex;gap:56px}dt{color:#4c5a57;font-size:26px}dd{font-size:56px;font-weight:700;font-variant-numeric:tabular-nums}small{font-size:28px}
</style><header><div><p>${escapeText(batch.style ?? 'Beer')}</p><h1>${escapeText(batch.title)}</h1></div>${lockSvg(plan.swatch?.srgb ?? null)}</header><dl>${facts.join('')}</dl><p>${escapeText(of.siteName)}</p>`;
}
