import { describe, expect, it } from 'vitest';
import { readArguments } from '../../lib/commands/support/arguments.ts';
import { CONTENT, type CommandSpec, OUTPUT, PAPER, PRIVATE_OUTPUT } from '../../lib/commands/support/spec.ts';

const SPEC: CommandSpec = {
  name: 'build',
  purpose: 'For the tests.',
  words: null,
  options: [CONTENT, OUTPUT, PRIVATE_OUTPUT, PAPER, { name: 'quick', value: null, help: 'a flag' }],
};
const WITH_WORDS: CommandSpec = { ...SPEC, name: 'sheets', words: '[slug …]' };

const read = (args: string[], env: Record<string, string> = {}, spec = SPEC) =>
  readArguments(spec, args, env);

describe('the line after a command', () => {
  it('gives defaults where nothing is said', () => {
    const args = read([]);
    expect([args.text('content'), args.text('output'), args.text('private-output')]).toEqual([
      'content',
      '_site',
      'private-sheets',
    ]);
    expect([args.text('paper'), args.flag('quick'), args.help]).toEqual([undefined, false, false]);
  });

  it.each([
    [['--content', 'mine', '--paper=letter', '--quick']],
    [['--quick', '--paper', 'letter', '--content=mine']],
  ])('reads %j', (line) => {
    const args = read(line);
    expect([args.text('content'), args.text('paper'), args.flag('quick')]).toEqual(['mine', 'letter', true]);
  });

  it('hands words on in their order', () => {
    expect(read(['a', '--content', 'x', 'b'], {}, WITH_WORDS).words).toEqual(['a', 'b']);
  });

  it.each([
    [['--contnet', 'x'], 'npm run build has no option --contnet; did you mean "--content"?'],
    [['--zzz'], 'npm run build has no option --zzz.'],
    [['--content'], '--content needs a value: --content DIR.'],
    [['--content', '--output', 'x'], '--content needs a value: --content DIR.'],
    [['--content='], '--content needs a value: --content DIR.'],
    [['--content', 'a', '--content', 'b'], '--content is given twice.'],
    [['--quick=yes'], '--quick takes no value.'],
    [['--paper', 'a5'], '--paper is "a5"; it is one of: a4, letter.'],
    [['extra'], '"extra" is not expected here: npm run build takes options only.'],
  ])('refuses %j', (line, message) => {
    expect(() => read(line)).toThrow(message);
  });
});

describe('options that npm kept for itself', () => {
  it.each([
    ['with their value', [], { npm_config_content: 'mine' }, 'mine'],
    ['with their value among the words', ['mine'], { npm_config_content: 'true' }, 'mine'],
    ['less than those of the line', ['--content', 'line'], { npm_config_content: 'kept' }, 'line'],
  ])('count %s', (_, line, env, content) => {
    expect(read(line, env).text('content')).toBe(content);
  });

  it('count where their name has a hyphen, and where they are flags', () => {
    const args = read([], {
      npm_config_private_output: 'p',
      npm_config_quick: 'true',
      npm_config_paper: 'a4',
    });
    expect([args.text('private-output'), args.flag('quick'), args.text('paper')]).toEqual(['p', true, 'a4']);
  });

  it.each([
    [['a', 'b'], { npm_config_content: 'true', npm_config_output: 'true' }, SPEC],
    [['slug'], { npm_config_content: 'true' }, WITH_WORDS],
    [[], { npm_config_content: 'true' }, SPEC],
  ])('are refused where it is not plain what they were given: %j %j', (line, env, spec) => {
    expect(() => read(line, env, spec)).toThrow(/npm kept --content.* for itself\. Write two hyphens/);
  });

  it('are refused where they are misspelt', () => {
    expect(() => read([], { npm_config_contnet: 'mine' })).toThrow('did you mean "--content"?');
  });

  it("are told apart from npm's own", () => {
    const env = {
      npm_config_cache: '/c',
      npm_config_prefix: '/p',
      npm_config_noproxy: '',
      npm_config_fund: 'x',
    };
    expect(read([], env).text('content')).toBe('content');
  });
});
