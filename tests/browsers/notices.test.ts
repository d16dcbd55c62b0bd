/** Whose code the build ships, read from its source maps, against the notice that it makes. */
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'counterturn-notices-'));
const read = (file: string) => readFileSync(join(folder, file), 'utf8');
let notice: string;
let files: string[];

beforeAll(async () => {
  const output = { outDir: folder, emptyOutDir: true, sourcemap: true };
  await build({ configFile: join(root, 'src/vite.config.ts'), logLevel: 'error', build: output });
  notice = read('third-party-notices.txt');
  files = readdirSync(folder, { recursive: true }).map(String);
}, 400_000);
afterAll(() => rmSync(folder, { recursive: true }));

const versionOf = (name: string) =>
  (JSON.parse(readFileSync(join(root, 'node_modules', name, 'package.json'), 'utf8')) as { version: string }).version;
const lines = () => new Set(notice.split('\n'));
/** Named with its version and a licence, once in the list and once above its text. */
const named = (name: string) => notice.split('\n').filter((line) => line.startsWith(`${name} ${versionOf(name)} (`));

describe('the notice of what others made', () => {
  it('names every package whose code a script holds, with version, licence and text', () => {
    const maps = files.filter((file) => file.endsWith('.js.map'));
    const sources = maps.flatMap((file) => (JSON.parse(read(file)) as { sources: string[] }).sources);
    const bundled = new Set(
      sources.flatMap((source) => /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(source)?.[1] ?? []),
    );
    expect([...bundled]).toEqual(expect.arrayContaining(['solid-js', 'xstate', 'valibot', 'hash-wasm']));
    expect([...bundled].filter((name) => named(name).length !== 2)).toEqual([]);
  });

  it('names what the service worker is made of', () => {
    const parts = [...read('sw.js').matchAll(/workbox:([a-z-]+):/g)].map(([, part]) => `workbox-${part}`);
    expect(parts.length).toBeGreaterThan(0);
    expect(parts.filter((name) => named(name).length !== 2)).toEqual([]);
  });

  it('names the font', () => {
    expect(files.some((file) => file.endsWith('.woff2'))).toBe(true);
    expect(named('@fontsource/atkinson-hyperlegible-next')[0]).toContain('(OFL-1.1)');
  });

  it('has no licence that is unknown, and a text under each', () => {
    const headings = [...lines()].filter((line) => /^\S+ \d+\.\d+\.\d+\S* \(.*\)$/.test(line));
    expect(headings.length).toBeGreaterThan(10);
    expect(headings.filter((line) => !/\((MIT|ISC|Apache-2\.0|OFL-1\.1|BSD-[23]-Clause|0BSD)\)$/.test(line))).toEqual(
      [],
    );
    const texts = notice.split(`${'-'.repeat(80)}\n`).slice(1);
    expect(texts.map((text) => text.split('\n', 1)[0])).toEqual(headings);
    expect(texts.filter((text) => !/permission|licen[cs]e/i.test(text.split('\n').slice(1).join('\n')))).toEqual([]);
  });

  it('is at hand without a network and takes no part in the start', () => {
    expect(read('sw.js')).toContain('third-party-notices.txt');
    expect(read('index.html')).not.toContain('third-party-notices.txt');
  });
});
