import { join } from 'node:path';
import { JSON_SCHEMAS } from '../archive/schema/json-schema.ts';
import { writeWhole } from '../archive/write/write-whole.ts';
import { openOutput } from '../site/output.ts';
import { foldersOf } from './support/folders.ts';
import { FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec, OUTPUT } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'schema',
  purpose: 'Writes the JSON Schemas of your files, by which an editor completes keys and marks slips.',
  words: null,
  options: [
    CONTENT,
    { ...OUTPUT, help: 'the schemas go into its folder schema' },
    { name: 'to', value: 'FILE', help: 'write only the schema of a batch file, to this file' },
  ],
};

type Name = keyof typeof JSON_SCHEMAS;
const schemaText = (name: Name): string => `${JSON.stringify(JSON_SCHEMAS[name](), null, 2)}\n`;

await runCommand(SPEC, async (args) => {
  const to = args.text('to');
  if (to !== undefined) {
    await writeWhole(to, schemaText('batch'));
    console.log(`Written: ${to}`);
    return FINE;
  }
  const { output: folder } = foldersOf(args, false);
  const output = openOutput(folder);
  for (const name of Object.keys(JSON_SCHEMAS) as Name[]) {
    const path = `schema/${name}.schema.json`;
    output.write(path, schemaText(name));
    console.log(`Written: ${join(folder, path)}`);
  }
  return FINE;
});
