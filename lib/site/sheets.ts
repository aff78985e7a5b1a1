import type { Environment } from 'nunjucks';
import qrcode from 'qrcode';
import type { Brewery } from '../batch/types/brewery.ts';
import {
  type CodePath,
  SHEET_TEMPLATES,
  sheetContext,
  type SheetOptions as ViewOptions,
} from '../paper/render-input.ts';
import { type SheetFile, sheetKindOf } from './paths.ts';
import type { SiteEntry } from './site.ts';

export interface SheetOptions {
  /** In place of the brewery's own. */
  readonly paper?: Brewery['paper'];
  /** From the sheet's file to the assets, with no slash at the end. */
  readonly assets?: string;
  /** Addresses of the typeface's two weights. */
  readonly fonts?: ViewOptions['fonts'];
}

const SITE_ASSETS = '../../assets';

/** The way to the assets from a page in the top folder. */
export const SHEET_ASSETS = 'assets';

/** Where the typeface lies, as seen from a page whose way to the assets is given. */
export const sheetFonts = (assets: string): ViewOptions['fonts'] => ({
  regular: `${assets}/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2`,
  bold: `${assets}/fonts/atkinson-hyperlegible-next-latin-700-normal.woff2`,
});

/** Renders one sheet as a page of its own, for the site or for the brewer's private folder. */
export function renderSheetHtml(
  environment: Environment,
  file: SheetFile,
  { batch, plan }: SiteEntry,
  brewery: Brewery,
  options: SheetOptions = {},
): string {
  const kind = sheetKindOf(file);
  const assets = options.assets ?? SITE_ASSETS;
  const shown = batch.publish !== 'nothing' && brewery.url !== null;
  const context = sheetContext(kind, batch, plan, brewery, {
    assets,
    fonts: options.fonts ?? sheetFonts(assets),
    address: shown ? new URL(`recipes/${encodeURIComponent(batch.slug)}/`, brewery.url ?? '').href : null,
    code: codePath,
    ...(options.paper === undefined ? {} : { paper: options.paper }),
  });
  return environment.render(SHEET_TEMPLATES[kind], { ...context, back: wayBack(batch) });
}

/** From a sheet to the page that leads to it; none from one that is on no site. */
const wayBack = ({ slug, publish }: SiteEntry['batch']): { href: string; text: string } | null => {
  if (publish === 'all') return { href: './index.html', text: 'Back to the batch' };
  if (publish === 'nothing') return null;
  return { href: `../../recipes/${slug}/index.html`, text: 'Back to the recipe' };
};

/** Modules of white around a code (ISO/IEC 18004). */
const QUIET_ZONE = 4;

/** Draws an address as a QR code of level Q: each run of dark modules of a row is one stroke of the path. */
function codePath(address: string): CodePath {
  const { modules } = qrcode.create(address, { errorCorrectionLevel: 'Q' });
  let path = '';
  for (let row = 0; row < modules.size; row++) {
    let run = 0;
    for (let column = 0; column <= modules.size; column++) {
      if (column < modules.size && modules.get(row, column)) run++;
      else if (run > 0) {
        path += `M${column - run + QUIET_ZONE} ${row + QUIET_ZONE}h${run}v1h-${run}z`;
        run = 0;
      }
    }
  }
  return { size: modules.size + 2 * QUIET_ZONE, path };
}
