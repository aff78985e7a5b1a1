import { existsSync } from 'node:fs';
import { copyFile, cp, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, join } from 'node:path';
import {
  batchJsonSchema,
  breweryJsonSchema,
  ingredientsJsonSchema,
  setupsJsonSchema,
} from '../schema/json-schema.ts';
import { bundle } from './bundle.ts';
import { packageFolder } from './package-file.ts';
import { TEMPLATES } from './paths.ts';
import { planJsonSchema } from './plan-schema.ts';

const require = createRequire(import.meta.url);

/** The form's script, made once in a run: nothing of the archive is in it. */
let keyIn: Promise<string> | null = null;

/** A file inside an installed package, also where its `exports` hide the folder. */
function packageFile(name: string, path: string): string {
  return join(packageFolder(require.resolve(name), name), path);
}

const FONT = '@fontsource/atkinson-hyperlegible-next';
const FONT_FILES = ['latin', 'latin-ext'].flatMap((set) =>
  [400, 700].map((weight) => `files/atkinson-hyperlegible-next-${set}-${weight}-normal.woff2`),
);

const SCHEMAS: Readonly<Record<string, () => Record<string, unknown>>> = {
  plan: planJsonSchema,
  batch: batchJsonSchema,
  brewery: breweryJsonSchema,
  setups: setupsJsonSchema,
  ingredients: ingredientsJsonSchema,
};

/** The screen's style sheet: its parts, in the order of their names, as one file. */
async function styleSheet(): Promise<string> {
  const folder = join(TEMPLATES, 'styles');
  const names = (await readdir(folder)).filter((name) => name.endsWith('.css')).sort();
  const parts = await Promise.all(names.map((name) => readFile(join(folder, name), 'utf8')));
  return parts.map((part) => part.replace(/^\/\* biome-ignore-all.*\*\/\n/, '')).join('\n');
}

/**
 * Copies what pages and sheets share (styles, typeface, paginating script) and writes the JSON Schemas.
 *
 * Everything comes from the project and its installed packages: no page asks another site for anything.
 */
export async function writeAssets(outputDir: string): Promise<void> {
  const assets = join(outputDir, 'assets');
  await mkdir(join(assets, 'fonts'), { recursive: true });
  await mkdir(join(outputDir, 'schema'), { recursive: true });
  await cp(join(TEMPLATES, 'assets'), assets, { recursive: true });
  await writeFile(join(assets, 'site.css'), await styleSheet());
  keyIn ??= bundle('key-in');
  await writeFile(join(assets, 'key-in.js'), await keyIn);
  for (const file of FONT_FILES)
    await copyFile(packageFile(FONT, file), join(assets, 'fonts', basename(file)));
  const licence = packageFile(FONT, 'LICENSE');
  if (existsSync(licence)) await copyFile(licence, join(assets, 'fonts', 'LICENSE.txt'));
  await copyFile(packageFile('pagedjs', 'dist/paged.polyfill.js'), join(assets, 'paged.polyfill.js'));
  for (const [name, schema] of Object.entries(SCHEMAS))
    await writeFile(join(outputDir, `schema/${name}.schema.json`), `${JSON.stringify(schema(), null, 1)}\n`);
}
