/** Writes sheets as a site would, into a folder of its own, for a browser to print and measure. */

import { cp, mkdir, readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import nunjucks from 'nunjucks';
import qrcode from 'qrcode';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import {
  type CodePath,
  SHEET_TEMPLATES,
  type SheetKind,
  sheetContext,
} from '../../../lib/paper/render-input.ts';

const require = createRequire(import.meta.url);
const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const FONT = '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin';

/** ISO/IEC 18004 asks for a quiet zone of four modules. */
const QUIET = 4;

export function codePath(address: string): CodePath {
  const { modules } = qrcode.create(address, { errorCorrectionLevel: 'Q' });
  let path = '';
  for (let y = 0; y < modules.size; y += 1)
    for (let x = 0; x < modules.size; x += 1)
      if (modules.get(y, x)) path += `M${x + QUIET} ${y + QUIET}h1v1h-1z`;
  return { size: modules.size + 2 * QUIET, path };
}

const dataUri = async (weight: number): Promise<string> => {
  const bytes = await readFile(require.resolve(`${FONT}-${weight}-normal.woff2`));
  return `data:font/woff2;base64,${bytes.toString('base64')}`;
};

export interface Desk {
  /** Writes one sheet and says where. */
  write(name: string, kind: SheetKind, batch: Batch, plan: Plan, brewery: Brewery): Promise<string>;
}

export async function openDesk(folder: string): Promise<Desk> {
  const assets = join(folder, 'assets');
  const sheets = join(folder, 'batches', 'sheets');
  await mkdir(assets, { recursive: true });
  await mkdir(sheets, { recursive: true });
  await cp(join(ROOT, 'templates/assets/sheet-screen.js'), join(assets, 'sheet-screen.js'));
  const paged = join(dirname(dirname(require.resolve('pagedjs'))), 'dist/paged.polyfill.min.js');
  await cp(paged, join(assets, 'paged.polyfill.js'));
  const environment = new nunjucks.Environment(new nunjucks.FileSystemLoader(join(ROOT, 'templates')), {
    autoescape: true,
    throwOnUndefined: true,
    trimBlocks: true,
    lstripBlocks: true,
  });
  const fonts = { regular: await dataUri(400), bold: await dataUri(700) };
  return {
    async write(name, kind, batch, plan, brewery) {
      const address = brewery.url === null ? null : `${brewery.url}recipes/${batch.slug}/`;
      const context = sheetContext(kind, batch, plan, brewery, {
        assets: '../../assets',
        fonts,
        address,
        code: codePath,
      });
      const path = join(sheets, `${name}.html`);
      await writeFile(path, environment.render(SHEET_TEMPLATES[kind], context));
      return path;
    },
  };
}
