#!/usr/bin/env node
import { readdirSync } from 'node:fs';
import { createJiti } from 'jiti';

const commands = new URL('./', import.meta.url);
const words = readdirSync(commands, { withFileTypes: true })
  .filter((entry) => entry.name.endsWith('.ts') && entry.name !== 'verify.ts')
  .map(({ name }) => name.replace(/\.ts$/, ''));

const [word = '--help'] = process.argv.splice(2, 1);
if (words.includes(word)) await createJiti(import.meta.url).import(new URL(`${word}.ts`, commands).href);
else {
  const asked = word === '--help' || word === '-h';
  const say = asked ? console.log : console.error;
  if (!asked) say(`There is no command "${word}".`);
  say('Sheets for the brewing day and an archive of your batches, from the files in this folder.\n');
  say(`  kettleside ${words.join('\n  kettleside ')}\n`);
  say('Start with kettleside begin; every command says more with --help.');
  process.exitCode = asked ? 0 : 2;
}
