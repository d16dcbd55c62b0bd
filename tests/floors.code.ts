/** Reads the project's own source: its files, what they import, and what a pure file must not touch. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import ts from 'typescript';

export const root = resolve(import.meta.dirname, '..');
const notOurs = new Set(['node_modules', 'dist', '.cache', '.git']);

/** Paths of all files of the project below a folder, relative to the root, with forward slashes, sorted. */
export function filesBelow(folder = '.'): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true })
    .flatMap((entry) => {
      if (notOurs.has(entry.name)) return [];
      const path = folder === '.' ? entry.name : `${folder}/${entry.name}`;
      return entry.isDirectory() ? filesBelow(path) : [path];
    })
    .sort();
}

export const read = (path: string) => readFileSync(join(root, path), 'utf8');
export const isCode = (path: string) => /\.(ts|tsx|mts|mjs|js)$/.test(path);
export const floorOf = (path: string) => path.split('/', 1)[0] ?? '';

/**
 * The project's own files that a file imports, types and dynamic imports included; packages are left out.
 * Worked result: `importsOf('machines/a.ts', "import { b } from '../content/b.ts'")` is `['content/b.ts']`.
 */
export function importsOf(path: string, text: string): string[] {
  return ts
    .preProcessFile(text, true, true)
    .importedFiles.map((file) => file.fileName)
    .filter((name) => name.startsWith('.'))
    .map((name) => relative(root, resolve(root, dirname(path), name.replace(/\?.*$/, ''))).replaceAll('\\', '/'));
}

/** Import graph of the code below the given folders; targets that do not exist are kept, for the caller to see. */
export function importGraph(folders: readonly string[]): Map<string, string[]> {
  const code = folders.filter((folder) => existsSync(join(root, folder))).flatMap((folder) => filesBelow(folder));
  return new Map(code.filter(isCode).map((path) => [path, importsOf(path, read(path))]));
}

/** The first circle in a graph as a path that ends where it began, or null. `a→b, b→a` gives `['a', 'b', 'a']`. */
export function circleIn(graph: ReadonlyMap<string, readonly string[]>): string[] | null {
  const finished = new Set<string>();
  const visit = (node: string, trail: readonly string[]): string[] | null => {
    const from = trail.indexOf(node);
    if (from >= 0) return [...trail.slice(from), node];
    if (finished.has(node)) return null;
    for (const next of graph.get(node) ?? []) {
      const circle = visit(next, [...trail, node]);
      if (circle) return circle;
    }
    finished.add(node);
    return null;
  };
  for (const node of graph.keys()) {
    const circle = visit(node, []);
    if (circle) return circle;
  }
  return null;
}

/**
 * Which folders import which, by neighbours: two files below a common folder tie the two folders just below it in which
 * they lie. A folder and one inside it are no neighbours.
 *
 * @example neighbours(new Map([['src/a/x/1.ts', ['src/b/2.ts']]])) // Map { 'src/a' => ['src/b'] }
 */
export function neighbours(graph: ReadonlyMap<string, readonly string[]>): Map<string, string[]> {
  const ties = new Map<string, Set<string>>();
  for (const [file, targets] of graph)
    for (const target of targets) {
      const [from, to] = [dirname(file).split('/'), dirname(target).split('/')];
      const depth = from.findIndex((name, i) => name !== to[i]);
      if (depth < 0 || depth >= to.length) continue;
      const [a, b] = [from, to].map((path) => path.slice(0, depth + 1).join('/')) as [string, string];
      ties.set(a, (ties.get(a) ?? new Set()).add(b));
    }
  return new Map([...ties].map(([folder, others]) => [folder, [...others].sort()]));
}

/** Pairs of folders that import each other, such as `src/a ↔ src/b`. */
export const pairsIn = (ties: ReadonlyMap<string, readonly string[]>): string[] =>
  [...ties].flatMap(([a, others]) => others.filter((b) => a < b && ties.get(b)?.includes(a)).map((b) => `${a} ↔ ${b}`));

const outsideNames = new Set([
  ...['document', 'window', 'globalThis', 'navigator', 'localStorage', 'indexedDB', 'fetch', 'process', 'require'],
  ...['setTimeout', 'setInterval', 'setImmediate', 'requestAnimationFrame', 'queueMicrotask', 'performance', 'crypto'],
]);

/**
 * What a file takes from the world outside its arguments: clock, chance, page, storage, timers. Comments, strings,
 * property names and names the file declares itself do not count.
 * @returns findings such as `3: Date.now`, with the line counted from 1
 */
export function worldlyIn(path: string, text: string): string[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const own = new Set<string>();
  const say = (node: ts.Node, what: string) =>
    found.push(`${source.getLineAndCharacterOfPosition(node.getStart()).line + 1}: ${what}`);
  const visit = (node: ts.Node): void => {
    if (ts.isPropertyAccessExpression(node) && ts.isIdentifier(node.expression)) {
      const whole = `${node.expression.text}.${node.name.text}`;
      if (whole === 'Date.now' || whole === 'Math.random') say(node, whole);
    }
    if (ts.isNewExpression(node) && node.expression.getText() === 'Date' && !node.arguments?.length)
      say(node, 'new Date()');
    if (ts.isCallExpression(node) && node.expression.getText() === 'Date') say(node, 'Date()');
    if (ts.isIdentifier(node) && outsideNames.has(node.text) && isReference(node) && !own.has(node.text))
      say(node, node.text);
    ts.forEachChild(node, visit);
  };
  const collect = (node: ts.Node): void => {
    const declares = ts.isVariableDeclaration(node) || ts.isParameter(node) || ts.isBindingElement(node);
    if ((declares || ts.isFunctionDeclaration(node)) && node.name && ts.isIdentifier(node.name))
      own.add(node.name.text);
    ts.forEachChild(node, collect);
  };
  collect(source);
  visit(source);
  return found;
}

function isReference(node: ts.Identifier): boolean {
  const { parent } = node;
  const namesAMember =
    (ts.isPropertyAccessExpression(parent) && parent.name === node) ||
    ((ts.isPropertyAssignment(parent) ||
      ts.isPropertySignature(parent) ||
      ts.isPropertyDeclaration(parent) ||
      ts.isMethodDeclaration(parent) ||
      ts.isMethodSignature(parent)) &&
      parent.name === node) ||
    (ts.isBindingElement(parent) && parent.propertyName === node);
  return !namesAMember;
}
