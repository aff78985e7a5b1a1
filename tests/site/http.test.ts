import fc from 'fast-check';
import { expect, it } from 'vitest';
import { addressOf } from '../../lib/site/preview/http.ts';

it.each([
  ['/', '/'],
  ['/batches/a%20b/?code=x', '/batches/a%20b/'],
  ['//', '/'],
  ['//[', '/['],
  ['///elsewhere.example/', '/elsewhere.example/'],
  ['http://[', '/'],
  ['*', '/'],
  ['', '/'],
  [undefined, '/'],
  ['/a/../../b', '/b'],
])('of %j is the path %s', (asked, path) => {
  expect(addressOf(asked).pathname).toBe(path);
});

it('is one of this server, whatever was asked', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), fc.constantFrom('', '/', '//'), (text, before) => {
      expect(addressOf(before + text).host).toBe('localhost');
    }),
  );
});
