import { readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import nunjucks from 'nunjucks';
import { commandLine } from './command-line.ts';
import { TEMPLATES, withSlashes } from './paths.ts';

const FOLDERS = ['layouts', 'sheets', 'key-in'];

function templateNames(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.njk'))
    .map((entry) => withSlashes(relative(TEMPLATES, join(entry.parentPath, entry.name))));
}

/**
 * The one Nunjucks environment: escapes everything, stops at an undefined name, and has every template
 * compiled before the first page, so that rendering is a plain synchronous call.
 */
export function createNunjucks(): nunjucks.Environment {
  const environment = new nunjucks.Environment(new nunjucks.FileSystemLoader(TEMPLATES, { noCache: false }), {
    autoescape: true,
    throwOnUndefined: true,
    trimBlocks: true,
    lstripBlocks: true,
  });
  environment.addGlobal('command', commandLine);
  for (const folder of FOLDERS)
    for (const name of templateNames(join(TEMPLATES, folder))) environment.getTemplate(name, true);
  return environment;
}
