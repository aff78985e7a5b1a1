import { connect } from 'node:net';
import fc from 'fast-check';
import { expect, it, vi } from 'vitest';
import { addressOf } from '../../lib/site/preview/http.ts';
import { kitchen, serve } from '../key-in/serving.ts';

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

it('a request that breaks off prints no stack, and the next is answered', async () => {
  const room = kitchen(['twelfth-night-old']);
  const site = await serve(room.content);
  const told = vi.spyOn(console, 'error').mockImplementation(() => undefined);
  try {
    const socket = connect(site.port, '127.0.0.1');
    const head = [
      'POST /batches/twelfth-night-old/key-in/ HTTP/1.1',
      `Host: localhost:${site.port}`,
      `Origin: ${site.origin}`,
      'Content-Type: application/x-www-form-urlencoded',
      'Content-Length: 1000',
    ];
    socket.write(`${head.join('\r\n')}\r\n\r\nhash=`);
    await new Promise((go) => setTimeout(go, 200));
    socket.destroy();
    await new Promise((go) => setTimeout(go, 200));
    expect((await site.get('/batches/twelfth-night-old/key-in/')).status).toBe(200);
    expect(told.mock.calls).toEqual([]);
  } finally {
    told.mockRestore();
    await site.close();
    room.remove();
  }
});
