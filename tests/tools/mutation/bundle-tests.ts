import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Instrumenter } from '@stryker-mutator/instrumenter';
import type { Plugin } from 'rolldown';
import { rolldown } from 'rolldown';

const ROOT = join(import.meta.dirname, '../../..');
const COLLECTOR = join(ROOT, 'tests/tools/mutation/test-collector.ts');

/** The code whose tests are put to the test. */
const MUTATED = ['lib/formulas', 'lib/batch'];
/** Where the tests stand that a mutant is tried against: all that run on the plan alone, without files written or a browser. */
const TESTED = [
  'tests/formulas',
  'tests/batch',
  'tests/batch/learning',
  'tests/words',
  'tests/archive/strained',
];
/** Tests that read the sources as text, which are not those that run; and those that only repeat what others say once. */
const LEFT_OUT = ['batch/plan/random', 'batch/uncertainty/uncertainty'];

/** A place in a file that was changed, and into what. */
export interface Mutant {
  readonly id: string;
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly mutator: string;
  readonly original: string;
  readonly replacement: string;
}

function filesUnder(folder: string, ending: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(ending))
    .map((name) => join(ROOT, folder, name))
    .sort();
}

function testFiles(): string[] {
  const leftOut = LEFT_OUT.map((name) => join(ROOT, 'tests', `${name}.test.ts`));
  const files = TESTED.flatMap((folder) => filesUnder(folder, '.test.ts'));
  return files.filter((file) => !leftOut.includes(file) && !file.endsWith('.long.test.ts'));
}

const silent = { isDebugEnabled: () => false, debug: () => {}, info: () => {} };

type Instrument = InstanceType<typeof Instrumenter>;

/** Every mutant of the code at once, each behind a switch, and the text of each file with its switches. */
async function instrument(): Promise<{ mutants: Mutant[]; text: Map<string, string> }> {
  const files = MUTATED.flatMap((folder) => filesUnder(folder, '.ts')).map((name) => ({
    name,
    mutate: true,
    content: readFileSync(name, 'utf8'),
  }));
  const instrumenter = new Instrumenter(silent as unknown as ConstructorParameters<typeof Instrumenter>[0]);
  const options: Parameters<Instrument['instrument']>[1] = {
    plugins: null,
    ignorers: [],
    excludedMutations: [],
    noHeader: false,
  };
  const result = await instrumenter.instrument(files, options);
  const lines = new Map(files.map(({ name, content }) => [name, content.split('\n')]));
  const mutants = result.mutants.map(({ id, fileName, location, mutatorName, replacement }) => {
    const { start, end } = location;
    const found = (lines.get(fileName) ?? []).slice(start.line, end.line + 1);
    const last = found.length - 1;
    found[last] = found[last]?.slice(0, end.column) ?? '';
    found[0] = found[0]?.slice(start.column) ?? '';
    return {
      id,
      file: relative(ROOT, fileName),
      line: start.line + 1,
      column: start.column + 1,
      mutator: mutatorName,
      original: found.join('\n'),
      replacement,
    };
  });
  return { mutants, text: new Map(result.files.map(({ name, content }) => [name, content])) };
}

/** While the body of a test file runs, what it passes is noted under the file; what the code passes as it is loaded, under nothing. */
function marked(body: string, at: number): string {
  const id = 'globalThis.__stryker__.currentTestId';
  return `${id} = 'file ${at}';\n${body}\n${id} = undefined;\n`;
}

const ENTRY = /^\0?file(\d+)\.ts$/;

function plugin(files: readonly string[], text: ReadonlyMap<string, string>): Plugin {
  return {
    name: 'mutants',
    resolveId: (id) => {
      if (ENTRY.test(id)) return `\0${id}`;
      return id === 'vitest' ? COLLECTOR : null;
    },
    load: (id) => {
      const [, at] = ENTRY.exec(id) ?? [];
      if (at) {
        const [file, collector] = [files[Number(at)], COLLECTOR].map((path) => JSON.stringify(path));
        return `import ${file};\nimport { taken } from ${collector};\nexport const tests = taken();\n`;
      }
      if (!id.startsWith(ROOT) || id.includes('node_modules')) return null;
      // A bundle stands elsewhere than its files.
      const body = (text.get(id) ?? readFileSync(id, 'utf8'))
        .replaceAll('import.meta.dirname', JSON.stringify(join(id, '..')))
        .replaceAll('import.meta.url', JSON.stringify(pathToFileURL(id).href));
      return files.includes(id) ? marked(body, files.indexOf(id)) : body;
    },
  };
}

async function write(input: Record<string, string>, dir: string, plugins: Plugin[]): Promise<void> {
  const build = await rolldown({
    input,
    platform: 'node',
    external: /^(?![./\0]|file\d+\.ts$|vitest$)/,
    plugins,
    logLevel: 'silent',
    treeshake: false,
  });
  await build.write({
    dir,
    format: 'esm',
    entryFileNames: '[name].mjs',
    chunkFileNames: '[name]-[hash].mjs',
  });
  await build.close();
}

/**
 * Writes a script for each test file, all of them sharing the instrumented code, and one that runs them; returns the mutants. Plain
 * scripts, because only Node itself loads a script anew.
 */
export async function bundleTests(
  dir: string,
): Promise<{ mutants: Mutant[]; files: string[]; scripts: string[]; runner: string }> {
  const { mutants, text } = await instrument();
  const files = testFiles();
  const names = files.map((_, at) => `file${at}`);
  await write(Object.fromEntries(names.map((name) => [name, `${name}.ts`])), dir, [plugin(files, text)]);
  await write({ runner: join(ROOT, 'tests/tools/mutation/run-tests.ts') }, dir, []);
  return {
    mutants,
    files: files.map((file) => relative(ROOT, file)),
    scripts: names.map((name) => join(dir, `${name}.mjs`)),
    runner: join(dir, 'runner.mjs'),
  };
}
