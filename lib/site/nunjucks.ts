import { readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import nunjucks from 'nunjucks';
import { commandLine } from './command-line.ts';
import { TEMPLATES, withSlashes } from './paths.ts';

const FOLDERS = ['layouts', 'sheets', 'key-in'];

interface Frame {
  variables: Record<string, unknown>;
  set(this: Frame, name: string, value: unknown, resolveUp?: boolean): void;
}

const LOOP = new Map(
  ['index', 'index0', 'revindex', 'revindex0', 'first', 'last', 'length'].map((each) => [
    `loop.${each}`,
    each,
  ]),
);

/** The engine parts a name at its dots each time that it is set, seven times in each round of a loop: as costly as all escaping. */
function setWithoutParting(): void {
  const { prototype } = (nunjucks.runtime as unknown as { Frame: { prototype: Frame } }).Frame;
  const { set } = prototype;
  prototype.set = function (name, value, resolveUp) {
    const part = LOOP.get(name);
    if (part !== undefined) {
      this.variables.loop ||= {};
      (this.variables.loop as Record<string, unknown>)[part] = value;
    } else if (resolveUp || name.includes('.')) set.call(this, name, value, resolveUp);
    else this.variables[name] = value;
  };
}
setWithoutParting();

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
