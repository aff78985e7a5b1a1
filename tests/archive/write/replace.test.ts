/** An editor that saves at any step of a save of ours, and kills at any step. */
import {
  chmodSync,
  closeSync,
  cpSync,
  existsSync,
  ftruncateSync,
  linkSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { link, readFile, rename, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readArchive } from '../../../lib/archive/read-archive.ts';
import { type ReplaceSteps, recover, replaceFile } from '../../../lib/archive/write/replace.ts';

const OLD = 'old text\n';
const OURS = 'old text\nwith a reading\n';
const THEIRS = 'what the editor saves\n';

let dir: string;
let path: string;
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'kettleside-replace-'));
  path = join(dir, 'batch.md');
  writeFileSync(path, OLD);
});
afterEach(() => rmSync(dir, { recursive: true, force: true }));

const texts = () => readdirSync(dir).map((name) => readFileSync(join(dir, name), 'utf8'));
const here = () => (existsSync(path) ? readFileSync(path, 'utf8') : null);

/** The real steps, with something done before each; `at` is the number of steps done before. */
function stepped(before: (at: number) => void): ReplaceSteps & { readonly count: () => number } {
  let at = 0;
  const step =
    <A extends unknown[], R>(act: (...args: A) => Promise<R>) =>
    (...args: A): Promise<R> => {
      before(at++);
      return act(...args);
    };
  return {
    move: step(rename),
    link: step(link),
    read: step((file: string) => readFile(file)),
    remove: step((file: string) => rm(file, { force: true })),
    count: () => at,
  };
}

const replace = (steps: ReplaceSteps) => replaceFile(path, Buffer.from(OLD), Buffer.from(OURS), steps);

/** An editor of each kind, in the two acts in which it saves. */
const EDITORS: Readonly<Record<string, () => readonly [() => void, () => void]>> = {
  'by rename': () => [
    () => writeFileSync(join(dir, 'theirs'), THEIRS),
    () => renameSync(join(dir, 'theirs'), path),
  ],
  'in place, emptied at once': () => {
    let file = 0;
    return [
      () => {
        file = openSync(path, 'w');
      },
      () => {
        writeSync(file, THEIRS);
        closeSync(file);
      },
    ];
  },
  'in place, emptied as it writes': () => {
    let file = 0;
    return [
      () => {
        file = openSync(existsSync(path) ? path : join(dir, '.batch.md.taken'), 'r+');
      },
      () => {
        ftruncateSync(file, 0);
        writeSync(file, THEIRS, 0);
        closeSync(file);
      },
    ];
  },
};

/** More than there are steps, and the one before which an editor that has the old file open is seen for the last time. */
const STEPS = 8;
const LAST_LOOK = 4;
const moments = Array.from({ length: STEPS }, (_, first) =>
  Array.from({ length: STEPS - first }, (_, more) => [first, first + more] as const),
).flat();

describe("an editor's save while a reading is saved is not lost, and who loses is told", () => {
  it.each(Object.keys(EDITORS))('%s', async (kind) => {
    for (const [first, second] of moments) {
      rmSync(dir, { recursive: true });
      dir = mkdtempSync(join(tmpdir(), 'kettleside-replace-'));
      path = join(dir, 'batch.md');
      writeFileSync(path, OLD);
      const [begin, end] = EDITORS[kind]!();
      let saved = 0;
      const act = (at: number) => {
        if (at >= first && saved === 0) {
          begin();
          saved = 1;
        }
        if (at >= second && saved === 1) {
          end();
          saved = 2;
        }
      };
      const steps = stepped(act);
      const told = !(await replace(steps));
      // An editor that saves after the last look writes over what is saved, as it may at any later time: nobody can be told.
      const during = saved === 2 && second <= LAST_LOOK;
      act(STEPS);
      const found = [kind, first, second, during, told, here()];
      expect(texts(), found.join()).toContain(THEIRS);
      if (during) expect([told, here()], found.join()).toEqual([true, THEIRS]);
      else if (!told) expect(here() === OURS || here() === THEIRS, found.join()).toBe(true);
      expect(readdirSync(dir).filter((name) => /tmp$|taken$/.test(name))).toEqual([]);
    }
  });

  it('is kept also where it comes so late that the next reading is saved', async () => {
    const file = openSync(path, 'r+');
    expect(await replace(stepped(() => undefined))).toBe(true);
    writeSync(file, THEIRS);
    closeSync(file);
    expect(await replaceFile(path, Buffer.from(OURS), Buffer.from(`${OURS}and another\n`))).toBe(true);
    expect(texts().some((text) => text.startsWith(THEIRS))).toBe(true);
  });

  it('is not lost where files have no second names', async () => {
    const steps = stepped(() => undefined);
    const link = () => Promise.reject(Object.assign(new Error('none'), { code: 'EPERM' }));
    expect(await replace({ ...steps, link })).toBe(true);
    expect([here(), readFileSync(join(dir, '.batch.md.before'), 'utf8')]).toEqual([OURS, OLD]);
    writeFileSync(path, THEIRS);
    expect(await replace({ ...steps, link })).toBe(false);
    expect(here()).toBe(THEIRS);
  });
});

describe('a save that is killed', () => {
  it.each(moments.filter(([a, b]) => a === b).map(([at]) => at))('after %s steps', async (at) => {
    const killed = stepped((now) => {
      if (now === at) throw new Error('killed');
    });
    await replace(killed).catch((thrown: unknown) => expect(String(thrown)).toContain('killed'));
    await recover(path);
    expect([OLD, OURS]).toContain(here());
    expect(readdirSync(dir).filter((name) => /tmp$|taken$/.test(name))).toEqual([]);
    expect(await replaceFile(path, Buffer.from(here() ?? ''), Buffer.from('next'))).toBe(true);
    expect(here()).toBe('next');
  });

  it('between two names of one file leaves one', async () => {
    linkSync(path, join(dir, '.batch.md.taken'));
    await recover(path);
    expect(readdirSync(dir)).toEqual(['batch.md']);
  });

  it('is made good by the next start, whatever that does', async () => {
    rmSync(dir, { recursive: true });
    dir = mkdtempSync(join(tmpdir(), 'kettleside-replace-'));
    cpSync('content', dir, { recursive: true });
    const batch = join(dir, 'batches/regatta-bitter.md');
    renameSync(batch, join(dir, 'batches/.regatta-bitter.md.taken'));
    const { batches } = await readArchive(dir, { tablesDir: 'shared' });
    expect(batches.map(({ slug }) => slug)).toContain('regatta-bitter');
    expect(existsSync(batch)).toBe(true);
    expect(readdirSync(join(dir, 'batches')).filter((name) => name.startsWith('.'))).toEqual([]);
  });
});

it('the version before has the rights of the file it came from, and so has the new one', async () => {
  chmodSync(path, 0o600);
  await replace(stepped(() => undefined));
  expect(statSync(join(dir, '.batch.md.before')).mode & 0o777).toBe(0o600);
  expect(statSync(path).mode & 0o777).toBe(0o600);
  chmodSync(path, 0o666);
  await replaceFile(path, Buffer.from(OURS), Buffer.from(OLD));
  expect(statSync(path).mode & 0o777).toBe(0o666);
});
