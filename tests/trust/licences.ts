/** Prints the licence of every package that comes with the program: `npx jiti tests/trust/licences.ts`. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '../..');

export interface Licensed {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  /** True for what package.json itself asks for. */
  readonly direct: boolean;
}

interface Locked {
  readonly version?: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
}

const json = (path: string): Record<string, unknown> => JSON.parse(readFileSync(join(ROOT, path), 'utf8'));

/** Packages of production by name, as the lock file has them; of one without a word on its licence, as its own file says. */
export function licences(): readonly Licensed[] {
  const own = json('package.json');
  const direct = new Set(
    ['dependencies', 'optionalDependencies'].flatMap((kind) =>
      Object.keys((own[kind] as object | undefined) ?? {}),
    ),
  );
  const packages = json('package-lock.json').packages as Readonly<Record<string, Locked>>;
  return Object.entries(packages)
    .filter(([path, { dev }]) => path !== '' && dev !== true)
    .map(([path, { version = '', license }]) => {
      const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
      return {
        name,
        version,
        licence: license ?? ownWord(path),
        direct: path === `node_modules/${name}` && direct.has(name),
      };
    })
    .sort((a, b) => (a.name < b.name ? -1 : Number(a.name > b.name)) || (a.version < b.version ? -1 : 1));
}

function ownWord(path: string): string {
  try {
    const { license, licenses } = json(join(path, 'package.json'));
    if (typeof license === 'string') return license;
    const listed = [license, licenses].flat().map((one) => (one as { type?: unknown } | undefined)?.type);
    return listed.filter((one) => typeof one === 'string').join(' OR ') || 'not said';
  } catch {
    return 'not said';
  }
}

if (process.argv[1]?.endsWith('licences.ts')) {
  console.log('| package | version | licence |\n| --- | --- | --- |');
  for (const { name, version, licence, direct } of licences())
    console.log(`| ${direct ? `**${name}**` : name} | ${version} | ${licence} |`);
}
