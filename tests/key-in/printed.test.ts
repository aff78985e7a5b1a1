/** On which page of the paper a blank stands, as far as it is known. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { askBlanks } from '../../lib/commands/support/key-in-ask.ts';
import { headed } from '../../lib/key-in/key-in.ts';
import { paperNote } from '../../lib/site/key-in/page.ts';
import { beginSession, readKit, type Session } from '../../lib/site/key-in/session.ts';
import { type Kitchen, kitchen } from './serving.ts';

const SLUG = 'november-fog-porter';
let room: Kitchen;
beforeAll(() => {
  room = kitchen([SLUG]);
});
afterAll(() => room.remove());

/** The batch, with what was written beside its PDF. */
async function openedWith(written: (session: Session) => unknown): Promise<Session> {
  const out = join(room.dir, 'batches');
  const opened = async () => {
    const begun = beginSession(await readKit(room.content, [join(room.dir, 'private'), out]), SLUG);
    if (!begun.ok) throw new Error(begun.why);
    return begun.session;
  };
  mkdirSync(join(out, SLUG), { recursive: true });
  writeFileSync(join(out, SLUG, 'fields.json'), '');
  const text = JSON.stringify(written(await opened()));
  writeFileSync(join(out, SLUG, 'fields.json'), text);
  return opened();
}

const PAGE_OF: Readonly<Record<string, number>> = { A: 2, B: 3, C: 4, D: 4, E: 4 };

const paperOf = ({ slug, blanks }: Session, revision = 'abcdefg') => ({
  slug,
  revision,
  pages: { 'kettle-sheet': 5, 'cellar-sheet': 1 },
  fields: blanks
    .filter(({ onPaper }) => onPaper)
    .filter(({ key }) => !/^(fermentation\[([89]|\d\d)\]|tasted\[[1-9])/.test(key))
    .map(({ id, key }) => ({ id, key, page: PAGE_OF[id.charAt(0)] ?? 1 })),
});

/** Letters by the page that they stand on. */
function headings({ blanks, printed }: Session): readonly string[] {
  const pages = new Map<string, string>();
  for (const { where, letter } of headed(blanks, printed?.paper ?? null))
    pages.set(where, (pages.get(where) ?? '') + letter);
  return [...pages].map(([where, letters]) => `${where}: ${letters}`);
}

const UNKNOWN = ['Kettle sheet: ABCDE', 'Cellar sheet: FGHJK'];

describe('the form', () => {
  it('is by the pages of the paper that was printed, whatever its plan was called', async () => {
    const session = await openedWith((of) => paperOf(of));
    expect(headings(session)).toEqual([
      'Kettle sheet, page 2: A',
      'Kettle sheet, page 3: B',
      'Kettle sheet, page 4: CDE',
      'Cellar sheet: FGHJK',
    ]);
    expect(paperNote(session)).toContain('“plan abcdefg”');
  });

  it('names no page where the blanks of the paper have other numbers, and says so', async () => {
    const session = await openedWith((of) => {
      const paper = paperOf(of);
      return { ...paper, fields: paper.fields.filter(({ id }) => id !== 'B4') };
    });
    expect(headings(session)).toEqual(UNKNOWN);
    expect(paperNote(session)).toContain('printed from plan abcdefg');
    expect(paperNote(session)).toContain(session.plan.revision);
  });

  it.each([
    ['of another batch', { slug: 'first-water' }],
    ['of another shape', { fields: [{ id: 1 }] }],
    ['without fields', { fields: null }],
  ])('names no page after a file %s', async (_, wrong) => {
    const session = await openedWith((of) => ({ ...paperOf(of), ...wrong }));
    expect([headings(session), paperNote(session)]).toEqual([UNKNOWN, '']);
  });
});

describe('npm run key-in', () => {
  it('asks under the same headings', async () => {
    const session = await openedWith((of) => paperOf(of));
    const said: string[] = [];
    const lines = Readable.from(Array.from({ length: 90 }, () => '\n'));
    const input = createInterface({ input: lines });
    expect(await askBlanks(session, input, { all: true, say: (text) => said.push(text) })).toBe(0);
    expect(said[1]).toContain('“plan abcdefg”');
    expect(said.filter((text) => /^\n/.test(text)).map((text) => text.trim())).toEqual([
      'Kettle sheet, page 2: Heat and steep',
      'Kettle sheet, page 3: Boil',
      'Kettle sheet, page 4: Chill and top up',
      'Kettle sheet, page 4: Read',
      'Kettle sheet, page 4: Pitch',
      'Cellar sheet: While it ferments',
      'Cellar sheet: When it has finished',
      'Cellar sheet: Packaging',
      'Cellar sheet: Tasting',
      'Cellar sheet: If it was given up',
    ]);
  });
});
