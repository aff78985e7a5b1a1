import { existsSync, readdirSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, join } from 'node:path';
import { JSON_SCHEMAS } from '../archive/schema/json-schema.ts';
import { planJsonSchema } from '../batch/types/plan-schema.ts';
import { bundle } from './bundle.ts';
import type { Output } from './output.ts';
import { TEMPLATES } from './paths.ts';

const require = createRequire(import.meta.url);

/** The form's scripts, each made once in a run: nothing of the archive is in them. */
const FORM_SCRIPTS = { 'key-in.js': 'key-in/key-in', 'photo.js': 'key-in/photo-page' } as const;
const bundles = new Map<string, Promise<string>>();

export function formScript(name: keyof typeof FORM_SCRIPTS): Promise<string> {
  const made = bundles.get(name) ?? bundle(FORM_SCRIPTS[name]);
  bundles.set(name, made);
  return made;
}

/** The folder of an installed package, from the path of its entry file, with slashes of either kind. */
function packageFolder(entry: string, name: string): string {
  const plain = entry.replaceAll('\\', '/');
  const end = plain.lastIndexOf(`node_modules/${name}/`);
  if (end === -1) throw new Error(`${entry} is no file of the package ${name}.`);
  return entry.slice(0, end + `node_modules/${name}`.length);
}

/** A file inside an installed package, also where its `exports` hide the folder. */
function packageFile(name: string, path: string): string {
  return join(packageFolder(require.resolve(name), name), path);
}

const FONT = '@fontsource/atkinson-hyperlegible-next';
const FONT_FILES = ['latin', 'latin-ext'].flatMap((set) =>
  [400, 700].map((weight) => `files/atkinson-hyperlegible-next-${set}-${weight}-normal.woff2`),
);

/** The screen's style sheet: its parts, in the order of their names, as one file. */
export async function styleSheet(): Promise<string> {
  const folder = join(TEMPLATES, 'styles');
  const names = (await readdir(folder)).filter((name) => name.endsWith('.css')).sort();
  const parts = await Promise.all(names.map((name) => readFile(join(folder, name), 'utf8')));
  return parts.map((part) => part.replace(/^\/\* biome-ignore-all.*\*\/\n/, '')).join('\n');
}

export type AssetMaker = () => Promise<string | Uint8Array>;
/** Files by path below the top folder, each made when it is asked for. */
export type AssetFiles = ReadonlyMap<string, AssetMaker>;

/**
 * What pages and sheets share: styles, typeface, paginating script, and the JSON Schemas.
 *
 * Everything comes from the project and its installed packages: no page asks another site for anything.
 */
export function assetFiles(): AssetFiles {
  const own = join(TEMPLATES, 'assets');
  const licence = packageFile(FONT, 'LICENSE');
  return new Map<string, AssetMaker>([
    ...readdirSync(own).map((name) => [`assets/${name}`, () => readFile(join(own, name))] as const),
    ['assets/site.css', styleSheet],
    ['assets/key-in.js', () => formScript('key-in.js')],
    ['assets/photo.js', () => formScript('photo.js')],
    ...FONT_FILES.map(
      (file) => [`assets/fonts/${basename(file)}`, () => readFile(packageFile(FONT, file))] as const,
    ),
    ...(existsSync(licence) ? [['assets/fonts/LICENSE.txt', () => readFile(licence)] as const] : []),
    ['assets/paged.polyfill.js', () => readFile(packageFile('pagedjs', 'dist/paged.polyfill.js'))],
    ...Object.entries({ plan: planJsonSchema, ...JSON_SCHEMAS }).map(
      ([name, schema]) =>
        [`schema/${name}.schema.json`, async () => `${JSON.stringify(schema(), null, 1)}\n`] as const,
    ),
  ]);
}

/** Writes files that belong to a run, but for those that are there as they should be. */
export async function writeAssetFiles(
  output: Output,
  files: AssetFiles,
  isDone: (path: string) => boolean = () => false,
): Promise<void> {
  output.announce(files.keys());
  for (const [path, make] of files) if (!isDone(path)) output.write(path, await make());
}

/** Writes what pages and sheets share. */
export const writeAssets = (output: Output): Promise<void> => writeAssetFiles(output, assetFiles());
