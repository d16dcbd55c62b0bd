/** What a start shows has its words in the files that come with it: never a key in the place of a word. */
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { isCode, read, root } from '../floors.code.ts';

/** Files that a file brings with it at once: neither types nor what it asks for by `import()`. */
function comingWith(path: string): string[] {
  const file = ts.createSourceFile(path, read(path), ts.ScriptTarget.Latest);
  return file.statements.flatMap((statement) => {
    const isImport = ts.isImportDeclaration(statement);
    if (!isImport && !ts.isExportDeclaration(statement)) return [];
    const from = statement.moduleSpecifier;
    if (!from || !ts.isStringLiteral(from) || !from.text.startsWith('.')) return [];
    if (isImport ? statement.importClause?.isTypeOnly : statement.isTypeOnly) return [];
    const named = isImport && !statement.importClause?.name ? statement.importClause?.namedBindings : undefined;
    if (named && ts.isNamedImports(named) && named.elements.every(({ isTypeOnly }) => isTypeOnly)) return [];
    return [
      resolve(root, path, '..', from.text)
        .slice(root.length + 1)
        .replaceAll('\\', '/'),
    ];
  });
}

function startOf(path: string, found = new Set<string>()): Set<string> {
  if (found.has(path) || !isCode(path)) return found;
  found.add(path);
  for (const next of comingWith(path)) startOf(next, found);
  return found;
}

const files = [...startOf('src/main.tsx')];
const code = files.map(read).join('\n');
const first = loadContent(currentVersion, 'en')?.phrases.words ?? {};
const everything = Object.assign(
  {},
  ...readdirSync(resolve(root, 'content/words/en')).map(
    (file) => JSON.parse(read(`content/words/en/${file}`)) as object,
  ),
) as Record<string, string>;
const later = Object.keys(everything).filter((key) => !(key in first));

describe('the words that come with the start', () => {
  it('are not all: rooms and sheets bring theirs', () => {
    expect(files).toContain('src/screens/table/Cards.tsx');
    expect(files).not.toContain('src/screens/Settings.tsx');
    expect(later).toContain('settings.title');
  });

  it('have every key that a file of the start names', () => {
    const named = new Set([...code.matchAll(/['"`]([a-z][a-z-]*(?:\.[a-zA-Z0-9-]+)+)['"`]/g)].map(([, key]) => key));
    expect(later.filter((key) => named.has(key))).toEqual([]);
  });

  it('have every key that begins as one that a file of the start makes up', () => {
    const begun = [...code.matchAll(/`([a-z][a-z-]*\.(?:[a-zA-Z0-9-]+[.-])*)\$\{/g)].map(
      ([, start]) => start as string,
    );
    // What is wrong with an entry reads as on the command line until its words have come: held in failures.test.ts.
    const plain = begun.filter((start) => start !== 'fault.');
    expect(later.filter((key) => plain.some((start) => key.startsWith(start)))).toEqual([]);
  });
});
