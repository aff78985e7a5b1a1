import { basename } from 'node:path';
import { IN_CLONE } from './paths.ts';

/** How the program was started: as a package, by npm's way of starting one, or by a script of the clone. */
const INSTALLED = !IN_CLONE && /^kettleside(?:\.js)?$/.test(basename(process.argv[1] ?? ''));
const BY_NPX = process.env.npm_command === 'exec';

/**
 * A command as it is typed where the program was started: `npm run check -- --site` in a clone, `kettleside check --site` of an
 * installed package.
 */
export function commandLine(name: string, rest = ''): string {
  if (INSTALLED) return `${BY_NPX ? 'npx ' : ''}kettleside ${name}${rest === '' ? '' : ` ${rest}`}`;
  const script = name === 'start' || name === 'test' ? `npm ${name}` : `npm run ${name}`;
  return rest === '' ? script : `${script} -- ${rest}`;
}
