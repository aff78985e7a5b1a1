/** A folder laid out like a built site, with sheets of the tests' own in it. */

import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Paper, SheetJob } from '../../../lib/paper/engine/sheet.ts';

const require = createRequire(import.meta.url);
const SCREEN = fileURLToPath(new URL('../../../templates/assets/sheet-screen.js', import.meta.url));
const PAGED = join(
  require.resolve('pagedjs').replace(/pagedjs[\\/].*$/, 'pagedjs'),
  'dist',
  'paged.polyfill.min.js',
);
const FONT = require
  .resolve('@fontsource/atkinson-hyperlegible-next/package.json')
  .replace('package.json', 'files/atkinson-hyperlegible-next-latin-400-normal.woff2');

export interface SheetText {
  readonly title?: string;
  readonly paper?: Paper;
  readonly body: string;
  readonly style?: string;
  readonly head?: string;
  /** Scripts in the place of the usual two. */
  readonly scripts?: string;
}

/** The scripts of every sheet, in their order. */
export const scriptsFrom = (up: string): string =>
  ['sheet-screen', 'paged.polyfill'].map((name) => `<script src="${up}assets/${name}.js"></script>`).join('');
const PAPER_SIZE: Record<Paper, string> = { a4: '210mm 297mm', letter: '8.5in 11in' };

export class Workplace {
  readonly folder = mkdtempSync(join(tmpdir(), 'sheet-engine-'));
  readonly cacheDir = join(this.folder, 'cache');

  constructor() {
    mkdirSync(join(this.folder, 'site', 'assets'), { recursive: true });
    copyFileSync(SCREEN, this.asset('sheet-screen.js'));
    copyFileSync(PAGED, this.asset('paged.polyfill.js'));
    copyFileSync(FONT, this.asset('sheet.woff2'));
  }

  asset(name: string): string {
    return join(this.folder, 'site', 'assets', name);
  }

  path(...names: string[]): string {
    return join(this.folder, ...names);
  }

  /** Writes a sheet and returns the job that prints it. */
  sheet(id: string, text: SheetText, folder: readonly string[] = ['batches', '12']): SheetJob {
    const site = join(this.folder, 'site');
    mkdirSync(join(site, ...folder), { recursive: true });
    const htmlPath = join(site, ...folder, `${id}.html`);
    const paper = text.paper ?? 'a4';
    const up = '../'.repeat(folder.length);
    writeFileSync(htmlPath, page({ scripts: scriptsFrom(up), ...text }, paper));
    return { id, htmlPath, pdfPath: join(this.folder, 'pdf', `${id}.pdf`), paper };
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

function page(
  { title = 'Kettle sheet', body, style = '', head = '', scripts = '' }: SheetText,
  paper: Paper,
): string {
  const font = readFileSync(FONT).toString('base64');
  return `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>${title}</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; style-src 'unsafe-inline'; font-src 'self' data:; img-src 'self' data: http:">
${head}<style>
@font-face { font-family: Sheet; src: url(data:font/woff2;base64,${font}) }
@page { size: ${PAPER_SIZE[paper]}; margin: 22mm 12mm 20mm 20mm;
  @top-left { content: string(name) } @top-right { content: "page " counter(page) " of " counter(pages) } }
body { font: 14pt/1.3 Sheet, sans-serif; margin: 0 }
h1 { string-set: name content(text) }
table { table-layout: fixed; width: 100%; border-collapse: collapse }
th, td { width: 25%; border: 0.3mm solid; padding: 2mm; text-align: left }
tr { break-inside: avoid }
.blank { display: inline-block; box-sizing: border-box; width: 8mm; height: 10mm; border: 0.4mm solid }
${style}</style>
${scripts}
</head><body>${body}</body></html>`;
}

/** A row of a table of additions, with a blank for the clock time. */
export function additionRow(number: number): string {
  return `<tr><td>${60 - number} min</td><td>hops ${number}</td><td>${number} g</td>
<td><span class="blank" data-field="C${number}" data-key="boil.${number}" data-meaning="clock time of addition ${number}"></span></td></tr>`;
}

/** A kettle sheet with a table that is longer than a page. */
export function kettleSheet(rows: number, name = 'Lock cottage stout'): string {
  const additions = Array.from({ length: rows }, (_, at) => additionRow(at + 1)).join('\n');
  return `<nav data-screen-only><a href="../index.html">back</a></nav>
<h1>${name}</h1><h2>Read</h2>
<p>Volume <span class="blank" data-field="A1" data-key="volume" data-meaning="volume in the kettle">V</span> L</p>
<h2>Boil</h2>
<table><thead><tr><th>Left</th><th>What</th><th>How much</th><th>Clock</th></tr></thead>
<tbody>${additions}</tbody></table>
<h2>Chill</h2><p>The last words of the sheet.</p>`;
}
