import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import nunjucks from 'nunjucks';
import type { Plugin } from 'rolldown';
import { createNunjucks } from './nunjucks.ts';
import { NET, TEMPLATES } from './paths.ts';

const BROWSER = fileURLToPath(new URL('../browser/', import.meta.url));

/** Templates that a reader's browser fills in too, by the names under which they ask for each other. */
const IN_BROWSER: Readonly<Record<string, readonly string[]>> = {
  'kettleside:templates': [
    'layouts/macros.njk',
    'layouts/parts/recipe-board.njk',
    'layouts/parts/recipe-body.njk',
  ],
  'kettleside:sheets': ['sheets/macros.njk', 'sheets/kettle.njk', 'sheets/layout.njk'],
};
/** The frame that a sheet is printed from is a page of its own: only what goes into it is rendered. */
const BARE: Readonly<Record<string, string>> = { 'sheets/layout.njk': '{% block sheet %}{% endblock %}' };

/** The compiled body of a template, as functions that need no compiler. */
function compiled(name: string, source: string, environment: nunjucks.Environment): string {
  // The engine hands over a list, whatever its types say.
  const wrapper = (list: unknown): string => (list as readonly { template: string }[])[0]?.template ?? '';
  const script = nunjucks
    .precompileString(source, { name, env: environment, wrapper })
    // The place of a value in the template is of use to its author only.
    .replace(/lineno = \d+, colno = \d+, /g, '')
    .replace(/,\d+,\d+\), env\.opts\.autoescape/g, '), env.opts.autoescape')
    .replace(/^frame\.set\("loop\.(?!index"|first|last)\w+", [^;]*\);$/gm, '');
  return `${JSON.stringify(name)}: (function () {${script}\n})()`;
}

async function templatesModule(names: readonly string[]): Promise<string> {
  const environment = createNunjucks();
  const all = await Promise.all(
    names.map(async (name) => [name, BARE[name] ?? (await readFile(join(TEMPLATES, name), 'utf8'))] as const),
  );
  return `export default {\n${all.map(([name, source]) => compiled(name, source, environment)).join(',\n')}\n};\n`;
}

/** What is made for a bundle and lies in no file of its own. */
const MADE: Readonly<Record<string, () => Promise<string>>> = {
  ...Object.fromEntries(Object.entries(IN_BROWSER).map(([id, names]) => [id, () => templatesModule(names)])),
  'kettleside:weights': async () => `export default ${JSON.stringify(await readFile(NET, 'base64'))};\n`,
};

const made: Plugin = {
  name: 'kettleside:made',
  resolveId: { filter: { id: /^kettleside:/ }, handler: (id) => (id in MADE ? `\0${id}` : null) },
  load: { filter: { id: /^\0kettleside:/ }, handler: (id) => MADE[id.slice(1)]?.() ?? null },
};

/**
 * One script for a reader's browser out of `lib/browser/<entry>.ts` and all that it imports: the project's own TypeScript, no
 * copy of it. A classic script, because modules do not load from plain files.
 */
export async function bundle(entry: string): Promise<string> {
  // Loaded here so that commands which build no site do not pay for it.
  const { rolldown } = await import('rolldown');
  const build = await rolldown({
    input: join(BROWSER, `${entry}.ts`),
    platform: 'browser',
    plugins: [made],
    logLevel: 'warn',
  });
  try {
    const { output } = await build.generate({ format: 'iife', minify: true, comments: false });
    return output[0].code;
  } finally {
    await build.close();
  }
}
