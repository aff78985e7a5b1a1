import type { Environment } from 'nunjucks';
import type { Brewery } from '../batch/types/brewery.ts';

const SCRIPT = /<script (?:defer )?src="[^"]*"><\/script>\n/g;

/**
 * The empty sheet that a recipe's page prints from: the sheets' own page, with their scripts held back until a sheet has been put
 * into it.
 */
export function printFrame(environment: Environment, paper: Brewery['paper'], language: string): string {
  const fonts = (weight: number): string => `fonts/atkinson-hyperlegible-next-latin-${weight}-normal.woff2`;
  const page = environment.render('sheets/layout.njk', {
    kind: 'kettle',
    language,
    paper,
    title: 'Kettle sheet',
    assets: '.',
    fonts: { regular: fonts(400), bold: fonts(700) },
    code: null,
  });
  const scripts = page.match(SCRIPT)?.length ?? 0;
  if (scripts !== 2) throw new Error(`A sheet's page has ${scripts} scripts where two are held back.`);
  return page
    .replace(SCRIPT, '')
    .replace(
      '</head>',
      '<meta name="robots" content="noindex">\n<script src="print-frame.js" defer></script>\n</head>',
    );
}
