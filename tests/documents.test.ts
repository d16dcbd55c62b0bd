/** The documents name what is there: paths, scripts, types of entries, holds. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { everyId } from '../content/catalog.ts';
import { fetchReleases } from '../content/later.ts';
import { entryTypes } from '../machines/entry.ts';
import * as guards from '../machines/guards.ts';
import { filesBelow, read, root } from './floors.code.ts';

await fetchReleases();
const { holds: holdIds, notices: noticeIds } = everyId();
const files = filesBelow();
const documents = files.filter((path) => /(^|\/)(README|DEVELOPERS|FORMATS)\.md$/.test(path));
const names = new Set(files.map((path) => path.split('/').at(-1)));

/** Every place in the tree that a text names from the root on, `*` for any name. */
const placesIn = (text: string): string[] =>
  [...text.matchAll(/(?<![\w./-])(?:src|machines|content|tests)\/[\w./*-]*/g)].map(([path]) =>
    path.replace(/[./]+$/, ''),
  );

/** Bare names of files in code quotes, such as `ring.ts`; what a device writes (`counterturn-…`, `NAME.…`) lies elsewhere. */
const filesIn = (text: string): string[] =>
  [...text.matchAll(/`(?!counterturn-|NAME\.)([\w.-]+\.(?:ts|tsx|mjs|css|md|json))`/g)].map(
    ([, name]) => name as string,
  );

function isThere(path: string): boolean {
  if (!path.includes('*')) return existsSync(join(root, path));
  const pattern = new RegExp(`^${path.replace(/[.]/g, '\\.').replaceAll('*', '[^/]*')}$`);
  return files.some((file) => pattern.test(file));
}

describe('the documents', () => {
  it('are found, one beside each piece of code that reads a format', () => {
    expect(documents).toEqual(
      expect.arrayContaining(['README.md', 'DEVELOPERS.md', 'machines/FORMATS.md', 'content/FORMATS.md']),
    );
  });

  it.each(documents)('%s names only places that are there', (document) => {
    expect(placesIn(read(document)).filter((path) => !isThere(path))).toEqual([]);
  });

  it.each(documents)('%s names only files that are there', (document) => {
    expect(filesIn(read(document)).filter((name) => !names.has(name))).toEqual([]);
  });

  it.each(documents)('%s links only to what is there', (document) => {
    const links = [...read(document).matchAll(/\]\(([^)#\s]+)[^)]*\)/g)].map(([, target]) => target as string);
    const missing = links.filter((to) => !/^https?:/.test(to) && !existsSync(join(root, dirname(document), to)));
    expect(missing).toEqual([]);
  });

  it.each(documents)('%s names only scripts that npm knows', (document) => {
    const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
    const named = [...read(document).matchAll(/npm run (?:--silent )?([\w:-]+)/g)].map(([, name]) => name as string);
    expect(named.filter((name) => !(name in scripts))).toEqual([]);
  });

  it('would see a place, a file and a pattern that are not there', () => {
    expect(placesIn('see `src/nowhere.ts`, and machines/fold.ts.')).toEqual(['src/nowhere.ts', 'machines/fold.ts']);
    expect(['src/nowhere.ts', 'machines/fold.ts', 'tests/golden/*.case.json', 'tests/*.none'].map(isThere)).toEqual([
      false,
      true,
      true,
      false,
    ]);
    expect(filesIn('`ring.ts` and `no-such.ts`').filter((name) => !names.has(name))).toEqual(['no-such.ts']);
  });
});

describe('what they must hold', () => {
  it('the map stays a map: at most 12 kB', () => expect(Buffer.byteLength(read('DEVELOPERS.md'))).toBeLessThan(12_000));

  const quoted = (document: string) => new Set([...read(document).matchAll(/`([^`\n]+)`/g)].map(([, text]) => text));

  it.each([...new Set<string>([...holdIds, ...noticeIds])])('the map names the hold %s', (id) => {
    expect(quoted('DEVELOPERS.md')).toContain(id);
  });

  it('the map names every guard of the holds beside the hold, and no other', () => {
    const rows = [...read('DEVELOPERS.md').matchAll(/^\| H\d+ +\|([^|]*)\|([^|]*)\|$/gm)];
    const quotes = (cell = '') => [...cell.matchAll(/`([^`]+)`/g)].map(([, text]) => text as string);
    expect(rows.flatMap(([, hold]) => quotes(hold)).sort()).toEqual([...new Set([...holdIds, ...noticeIds])].sort());
    expect(rows.flatMap(([, , named]) => quotes(named)).sort()).toEqual(
      Object.entries(guards)
        .filter(([, guard]) => typeof guard === 'function')
        .map(([name]) => name)
        .sort(),
    );
  });

  it.each(entryTypes)('the case file’s format names the entry %s', (type) => {
    expect(quoted('machines/FORMATS.md')).toContain(type);
  });
});
