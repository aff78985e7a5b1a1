import { chai, JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect';

/** One test as its file declares it. */
export interface CollectedTest {
  readonly name: string;
  readonly run: () => unknown;
}

type Body = (...row: never[]) => unknown;

const declared: CollectedTest[] = [];

/** Every test that was declared since this was asked last, in order. */
export const taken = (): CollectedTest[] => declared.splice(0);

const titles: string[] = [];

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

/** The very matchers that the ordinary test run uses. */
export const expect = chai.expect;

function declare(title: string, run: () => unknown): void {
  declared.push({ name: [...titles, title].join(' > '), run });
}

function group(title: string, body: () => unknown): void {
  titles.push(title);
  body();
  titles.pop();
}

/** Rows of a table: an array is spread over the arguments, anything else is the one argument. */
function eachOf(one: (title: string, run: () => unknown) => void) {
  return (rows: readonly unknown[]) => (title: string, body: Body) => {
    for (const [at, row] of rows.entries()) {
      const given = (Array.isArray(row) ? row : [row]) as never[];
      one(`${title} [${at}]`, () => body(...given));
    }
  };
}

/** Stands in for the test runner's own functions, so that all tests can be run again and again in one process. */
export const it = Object.assign(
  (title: string, run: () => unknown, _timeLimit_ms?: number) => declare(title, run),
  {
    each: eachOf(declare),
  },
);
/** @alias */
export const test = it;
export const describe = Object.assign(group, { each: eachOf(group) });
