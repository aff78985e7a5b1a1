import { describe, expect, it } from 'vitest';
import { systemFault } from '../../lib/commands/support/run-command.ts';
import { withSlashes } from '../../lib/site/paths.ts';

const refused = (code: string): Error =>
  Object.assign(new Error(`${code}: no`), { code, path: 'site/a.pdf' });

describe('what the system refuses', () => {
  it.each(['EPERM', 'EACCES'] as const)('may on Windows be a file that is open elsewhere: %s', (code) => {
    expect(systemFault(refused(code), 'win32')).toBe(
      'site/a.pdf: this user may not write there, or another program has it open.',
    );
    expect(systemFault(refused(code), 'linux')).toBe('site/a.pdf: this user may not write there.');
    expect(systemFault(refused(code), 'darwin')).toBe('site/a.pdf: this user may not write there.');
  });
  it('is a file that is open elsewhere where the system says so', () => {
    for (const platform of ['win32', 'darwin', 'linux'] as const)
      expect(systemFault(refused('EBUSY'), platform)).toMatch(/another program has it open/);
  });
  it('is found behind the words of whoever passed it on, and nothing else is taken for it', () => {
    expect(systemFault(new Error('not written', { cause: refused('ENOSPC') }), 'win32')).toMatch(
      /disk is full/,
    );
    const wrapped = Object.assign(new Error('a page'), { originalError: refused('ENOSPC') });
    expect(systemFault(Object.assign(new Error('all'), { originalError: wrapped }))).toMatch(/disk is full/);
    expect(systemFault(refused('EWHATEVER'), 'win32')).toBeNull();
    expect(systemFault(new TypeError('a bug'), 'win32')).toBeNull();
  });
});

describe('paths for globs and for the site generator', () => {
  it('have no backslashes of Windows, and keep those of a name elsewhere', () => {
    expect(withSlashes('..\\my-batches\\batches', '\\')).toBe('../my-batches/batches');
    expect(withSlashes('C:\\Users\\me', '\\')).toBe('C:/Users/me');
    expect(withSlashes('../odd\\name', '/')).toBe('../odd\\name');
  });
});
