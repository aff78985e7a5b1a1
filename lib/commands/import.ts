import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type CsvRow, readCsv } from '../archive/import/csv-read.ts';
import { headerFaults, type Imported, importRows, unusedColumns } from '../archive/import/import-csv.ts';
import { type ImportMap, readImportMap } from '../archive/import/import-map.ts';
import { surroundingsOf } from '../archive/open-batch.ts';
import { readArchive } from '../archive/read-archive.ts';
import { writeWhole } from '../archive/write/write-whole.ts';
import { decode } from '../archive/yaml/decode.ts';
import { placeAt } from '../archive/yaml/located.ts';
import { readYamlWithProblems } from '../archive/yaml/problems.ts';
import { commandLine } from '../site/command-line.ts';
import { TABLES } from '../site/paths.ts';
import type { Arguments } from './support/arguments.ts';
import { counted, printProblems } from './support/report.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { slugFor } from './support/slug.ts';
import { CONTENT, type CommandSpec } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'import',
  purpose: 'Makes batch files of the rows of a CSV file, by a map of its columns. Nothing is overwritten.',
  words: '<file.csv>',
  options: [
    CONTENT,
    { name: 'map', value: 'FILE', help: 'which column goes to which key of the batch file' },
    { name: 'dry-run', value: null, help: 'say what would be written, and write nothing' },
  ],
  more: [
    'The map is YAML:',
    '  columns:',
    '    Name: title',
    '    Date: { key: brewed, date: day-month-year }',
    '    Malt (kg): { key: "recipe.extract[0].weight", unit: kg }',
    '    OG: readings.original_gravity',
    '    Remarks: notes',
    '  always: { setup: stove, recipe.boil: 60 min, "recipe.extract[0].name": pale liquid extract }',
    '  separator: semicolon     # comma, semicolon or tab; found out where it is left out',
    '  decimal: comma           # point where it is left out',
    'A column may have words: { what the table says: what to write }.',
    'Ends with exit code 1 where a row or a cell could not be used.',
  ],
};

await runCommand(SPEC, importBatches);

async function importBatches(args: Arguments): Promise<number> {
  const content = args.text('content') ?? '';
  const [csvPath, ...more] = args.words;
  if (csvPath === undefined || more.length > 0) {
    throw new UsageError(`One CSV file is wanted: ${commandLine('import', 'old.csv --map map.yaml')}`);
  }
  const mapPath = args.text('map');
  if (mapPath === undefined) throw new UsageError('The map of the columns is missing: --map map.yaml');
  if (!existsSync(content))
    throw new UsageError(`There is no content folder ${content}; --content names another.`);
  const map = mapFrom(mapPath);
  const table = map === null ? null : tableFrom(csvPath, map);
  if (map === null || table === null) return FAILED;
  const { header, rows } = table;
  const faults = headerFaults(header, map);
  if (faults.length > 0) {
    for (const fault of faults) console.log(`${csvPath}:1  ${fault}`);
    return FAILED;
  }
  const archive = await readArchive(content, { tablesDir: TABLES });
  const newer = archive.problems.filter(({ code }) => code === 'newer-format');
  if (newer.length > 0) {
    printProblems(newer);
    return FAILED;
  }
  const batches = join(content, 'batches');
  const files = existsSync(batches) ? readdirSync(batches) : [];
  const results = importRows(header, rows, map, {
    ...surroundingsOf(archive),
    brewery: archive.brewery,
    slugFor,
    taken: new Set(files.map((name) => name.toLowerCase().replace(/\.md$/, ''))),
  });
  for (const name of unusedColumns(header, map))
    console.log(`${csvPath}:1  column "${name}" is not in the map`);
  await write(results, batches, csvPath, args.flag('dry-run'));
  return results.every(({ file, said }) => file !== null && said.length === 0) ? FINE : FAILED;
}

function textFrom(path: string): string | null {
  if (!existsSync(path)) throw new UsageError(`There is no file ${path}.`);
  const decoded = decode(readFileSync(path));
  if (decoded.ok) return decoded.text;
  const { found, expected, mend } = decoded.problem;
  console.log(`${path}  found ${found}; expected ${expected}; ${mend}`);
  return null;
}

function mapFrom(path: string): ImportMap | null {
  const text = textFrom(path);
  if (text === null) return null;
  const yaml = readYamlWithProblems(text);
  for (const { offset, found, expected, mend } of yaml.problems) {
    console.log(`${path}:${placeAt(text, offset).line}  found ${found}; expected ${expected}; ${mend}`);
  }
  if (yaml.problems.length > 0) return null;
  const read = readImportMap(yaml.value);
  if (read.ok) return read.map;
  for (const fault of read.faults) console.log(`${path}  ${fault}`);
  return null;
}

function tableFrom(
  path: string,
  { separator }: ImportMap,
): { readonly header: readonly string[]; readonly rows: readonly CsvRow[] } | null {
  const text = textFrom(path);
  if (text === null) return null;
  const read = readCsv(text, separator);
  if (!read.ok) {
    console.log(`${path}:${read.line}  found ${read.found}; ${read.mend}`);
    return null;
  }
  const [header, ...rows] = read.rows;
  if (header !== undefined) return { header: header.cells, rows };
  console.log(`${path}  found nothing; expected a line with the names of the columns`);
  return null;
}

async function write(
  results: readonly Imported[],
  batches: string,
  csvPath: string,
  dry: boolean,
): Promise<void> {
  let done = 0;
  for (const { line, file, said } of results) {
    for (const one of said) console.log(`${csvPath}:${line}  ${one}`);
    if (file === null) continue;
    const path = join(batches, `${file.slug}.md`);
    if (!dry) await writeWhole(path, file.text);
    done++;
    console.log(`${csvPath}:${line}  ${dry ? 'would write' : 'written'} ${path}`);
  }
  const left = results.length - done;
  const rest = left === 0 ? '' : `; ${counted(left, 'row')} left out`;
  console.log(`${counted(done, 'batch', 'batches')} ${dry ? 'would be written' : 'written'}${rest}`);
}
