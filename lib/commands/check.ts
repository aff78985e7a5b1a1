import { loadSite } from '../site/archive.ts';
import { hasErrors, printProblems, summary } from './support/report.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'check',
  purpose: 'Reads and plans every batch, and lists all that is wrong or doubtful in your files.',
  words: null,
  options: [CONTENT],
  more: ['Ends with exit code 1 where a file has an error; warnings alone do not fail.'],
};

await runCommand(SPEC, async (args) => {
  const site = await loadSite(args.text('content') ?? '');
  printProblems(site.problems);
  console.log(summary(site));
  return hasErrors(site.problems) ? FAILED : FINE;
});
