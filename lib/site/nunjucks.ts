import { readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import nunjucks from 'nunjucks';
import { commandLine } from './command-line.ts';
import { TEMPLATES, withSlashes } from './paths.ts';

const FOLDERS = ['layouts', 'sheets', 'key-in'];
const OPTIONS = { autoescape: true, throwOnUndefined: true, trimBlocks: true, lstripBlocks: true };

function templateNames(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.njk'))
    .map((entry) => withSlashes(relative(TEMPLATES, join(entry.parentPath, entry.name))));
}

/** The compiled body of a template. */
export function compiled(name: string, source: string): string {
  // The engine hands over a list, whatever its types say.
  const wrapper = (list: unknown): string => (list as readonly { template: string }[])[0]?.template ?? '';
  return nunjucks.precompileString(source, { name, env: new nunjucks.Environment([], OPTIONS), wrapper });
}

/** What a loop says of itself at each turn, name by name as the engine has it; as one object it costs a fraction of that. */
const LOOP = /(?:^frame\.set\("loop\.\w+", [^;]*\);\n)+/gm;
const asObject = (sets: string): string =>
  `frame.set("loop", {${sets.replaceAll(/frame\.set\("loop\.(\w+)", (.*)\);\n/g, '$1: $2, ')}});\n`;

/** Hands over templates that are compiled already. */
class CompiledLoader extends nunjucks.FileSystemLoader {
  override getSource(name: string): nunjucks.LoaderSource {
    const found = super.getSource(name);
    const obj: unknown = new Function(compiled(name, found.src).replaceAll(LOOP, asObject))();
    // The engine takes that too, whatever its types say.
    return { ...found, src: { type: 'code', obj } as unknown as string };
  }
}

/**
 * The one Nunjucks environment: escapes everything, stops at an undefined name, and has every template
 * compiled before the first page, so that rendering is a plain synchronous call.
 */
export function createNunjucks(): nunjucks.Environment {
  const environment = new nunjucks.Environment(new CompiledLoader(TEMPLATES, { noCache: false }), OPTIONS);
  environment.addGlobal('command', commandLine);
  for (const folder of FOLDERS)
    for (const name of templateNames(join(TEMPLATES, folder))) environment.getTemplate(name, true);
  return environment;
}
