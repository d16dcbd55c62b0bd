import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readlinkSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { policy, serve } from '../src/tools/serve.mjs';

/** More than the buffers of a connection hold, so that a download is under way when it is broken off. */
const largeBytes = 16 * 1024 * 1024;

describe('the server', () => {
  const box = mkdtempSync(join(tmpdir(), 'counterturn-serve-'));
  const app = join(box, 'app');
  let server: Awaited<ReturnType<typeof serve>>;

  beforeAll(async () => {
    mkdirSync(join(app, 'assets'), { recursive: true });
    writeFileSync(join(box, 'secret.txt'), 'outside');
    writeFileSync(join(box, 'app-secret.txt'), 'outside');
    writeFileSync(join(app, 'index.html'), '<h1>Counterturn</h1>');
    writeFileSync(join(app, 'sw.js'), '// worker');
    writeFileSync(join(app, 'assets/a-1.js'), '// a');
    writeFileSync(join(app, 'large.bin'), new Uint8Array(largeBytes));
    symlinkSync(join(box, 'secret.txt'), join(app, 'link.txt'));
    server = await serve(app, 0);
  });
  afterAll(async () => {
    await server.close();
    rmSync(box, { recursive: true });
  });

  /** Sends the path as it stands; fetch would tidy the dots away. */
  const raw = (path: string, method = 'GET') =>
    new Promise<string>((done, fail) => {
      let answer = '';
      const socket = connect(server.port, '127.0.0.1', () =>
        socket.write(`${method} ${path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n`),
      );
      socket.on('data', (bytes) => (answer += String(bytes)));
      socket.on('end', () => done(answer)).on('error', fail);
    });

  it.each([
    ['/', 'text/html; charset=utf-8', 'no-cache'],
    ['/sw.js', 'text/javascript; charset=utf-8', 'no-cache'],
    ['/assets/a-1.js', 'text/javascript; charset=utf-8', 'public, max-age=31536000, immutable'],
  ])('gives %s as %s, to be kept: %s, under the content policy', async (path, type, keep) => {
    const answer = await fetch(new URL(path, server.url));
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toBe(type);
    expect(answer.headers.get('cache-control')).toBe(keep);
    expect(answer.headers.get('content-security-policy')).toBe(policy);
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
  });

  it.each([
    ['/../secret.txt', 403],
    ['/assets/../../secret.txt', 403],
    ['/%2e%2e/secret.txt', 403],
    ['/..%2fsecret.txt', 403],
    ['/..%5csecret.txt', 403],
    ['/../app-secret.txt', 403],
    ['/link.txt', 403],
    ['/%', 400],
    ['/%00', 400],
    ['secret.txt', 400],
    ['/nothing-here', 404],
    ['/assets', 404],
  ])('refuses %s with %i', async (path, status) => {
    const answer = await raw(path);
    expect(answer).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(answer).not.toContain('outside');
  });

  it('refuses to be written to', async () => expect(await raw('/', 'PUT')).toMatch(/^HTTP\/1.1 405 /));

  /** Descriptors of this process that lead to a file; null where the system does not list them. */
  const handlesOn = (file: string): number | null => {
    if (!existsSync('/proc/self/fd')) return null;
    const targets = readdirSync('/proc/self/fd').map((fd) => {
      try {
        return readlinkSync(`/proc/self/fd/${fd}`);
      } catch {
        // Closed between the listing and the look: it leads nowhere.
        return '';
      }
    });
    return targets.filter((target) => target === file).length;
  };

  it('keeps no file open of downloads that were broken off', async (task) => {
    const large = realpathSync(join(app, 'large.bin'));
    if (handlesOn(large) === null) return task.skip('this system does not list open files');
    const brokenOff = () =>
      new Promise<void>((done, fail) => {
        const socket = connect(server.port, '127.0.0.1', () =>
          socket.write('GET /large.bin HTTP/1.1\r\nHost: localhost\r\n\r\n'),
        );
        socket.once('data', () => socket.destroy());
        socket.once('close', () => done()).on('error', fail);
      });
    for (let i = 0; i < 40; i++) await brokenOff();
    for (const end = Date.now() + 5000; handlesOn(large) && Date.now() < end;)
      await new Promise((wake) => setTimeout(wake, 20));
    expect(handlesOn(large)).toBe(0);
    const whole = await (await fetch(new URL('large.bin', server.url))).arrayBuffer();
    expect(whole.byteLength).toBe(largeBytes);
  });

  it('says when the port is taken', async () => {
    await expect(serve(app, server.port)).rejects.toMatchObject({ code: 'EADDRINUSE' });
  });
});
