import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  circleIn,
  filesBelow,
  floorOf,
  importGraph,
  importsOf,
  isCode,
  neighbours,
  pairsIn,
  read,
  root,
  worldlyIn,
} from './floors.code.ts';

const floors = ['content', 'machines', 'src', 'tests'];
const mayImport: Record<string, readonly string[]> = {
  content: ['content'],
  machines: ['machines', 'content'],
  src: ['src', 'machines', 'content'],
  tests: floors,
};
const graph = importGraph(floors);
const edges = [...graph].flatMap(([from, targets]) => targets.map((to) => ({ from, to })));
const everyFile = filesBelow();

describe('the three floors', () => {
  it('finds the code it is to look at', () => {
    for (const floor of floors)
      expect(
        [...graph.keys()].some((path) => floorOf(path) === floor),
        floor,
      ).toBe(true);
  });

  it.each(floors)('%s imports only from its own floor and those below it', (floor) => {
    const upward = edges.filter(({ from, to }) => floorOf(from) === floor && !mayImport[floor]!.includes(floorOf(to)));
    expect(upward).toEqual([]);
  });

  it('follows every import to a file that is there', () => {
    expect(edges.filter(({ to }) => !existsSync(join(root, to)))).toEqual([]);
  });

  it('has no circles of files', () => expect(circleIn(graph)).toBeNull());

  it('has no two folders that import each other', () => expect(pairsIn(neighbours(graph))).toEqual([]));

  it('has no circles of folders', () => expect(circleIn(neighbours(graph))).toBeNull());
});

describe('content and machines take nothing from the world', () => {
  const pure = [...graph.keys()].filter((path) => ['content', 'machines'].includes(floorOf(path)));

  it.each(pure)('%s: no clock, chance, page, storage or timer', (path) => {
    expect(worldlyIn(path, read(path))).toEqual([]);
  });

  it('imports no built-in of Node', () => {
    expect(pure.filter((path) => /from '(node:|fs|path|crypto)/.test(read(path)))).toEqual([]);
  });
});

it('starts and ends of moves are matched to each other in one file alone', () => {
  const asks = (text: string, type: string) => new RegExp(`(===|!==|case|\\.of\\()\\s*'${type}'`).test(text);
  const files = [...graph.keys()].filter((path) => ['machines', 'src'].includes(floorOf(path)));
  const matching = files.filter((path) => asks(read(path), 'move-started') && asks(read(path), 'move-ended'));
  expect(files.length).toBeGreaterThan(200);
  expect(matching).toEqual(['machines/trace.ts']);
});

describe('the looking itself', () => {
  it.each([
    ['const t = Date.now();', ['1: Date.now']],
    ['\nconst t = new Date();', ['2: new Date()']],
    ['const t = new Date;', ['1: new Date()']],
    ['const t = new Date(0);', []],
    ['const r = Math.random();', ['1: Math.random']],
    ['document.title;', ['1: document']],
    ['const f = { g: window };', ['1: window']],
    ['setTimeout(f, 1);', ['1: setTimeout']],
    ['// Date.now\nconst s = "window";', []],
    ['const room = { window: 1 }; room.window;', []],
    ['const open = (window: number) => window + 1;', []],
  ])('in %j finds %j', (text, found) => expect(worldlyIn('a.ts', text)).toEqual(found));

  it('sees every way to import', () => {
    const text = `import a from './a.ts';\nimport type { B } from '../content/b.ts';\nexport * from './c.ts';\nvoid import('./d.ts');\nimport 'solid-js';`;
    expect(importsOf('machines/x.ts', text)).toEqual([
      'machines/a.ts',
      'content/b.ts',
      'machines/c.ts',
      'machines/d.ts',
    ]);
  });

  it('sees a circle, and none where two ways meet', () => {
    expect(
      circleIn(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['b']],
        ]),
      ),
    ).toEqual(['b', 'c', 'b']);
    expect(
      circleIn(
        new Map([
          ['a', ['b', 'c']],
          ['b', ['d']],
          ['c', ['d']],
        ]),
      ),
    ).toBeNull();
  });
});

describe('the looking at folders', () => {
  it('sees two that import each other, through whatever lies inside them', () => {
    const ties = neighbours(
      new Map([
        ['src/a/x/1.ts', ['src/b/2.ts', 'content/c.ts']],
        ['src/b/y/3.ts', ['src/a/4.ts', 'src/b/2.ts']],
      ]),
    );
    expect(ties).toEqual(
      new Map([
        ['src/a', ['src/b']],
        ['src', ['content']],
        ['src/b', ['src/a']],
      ]),
    );
    expect(pairsIn(ties)).toEqual(['src/a ↔ src/b']);
    expect(circleIn(ties)).toEqual(['src/a', 'src/b', 'src/a']);
  });

  it('takes a folder and one inside it for no neighbours', () => {
    expect(
      neighbours(
        new Map([
          ['src/a/1.ts', ['src/a/x/2.ts']],
          ['src/a/x/2.ts', ['src/a/3.ts']],
        ]),
      ),
    ).toEqual(new Map());
  });
});

describe('the files', () => {
  const written = everyFile.filter((path) => floors.includes(floorOf(path)) && (isCode(path) || path.endsWith('.css')));

  it('are none over 500 lines', () => {
    const long = written.map((path) => [path, read(path).trimEnd().split('\n').length] as const);
    expect(long.filter(([, lines]) => lines > 500)).toEqual([]);
  });

  // A place on one machine, or the host packages came from, has no business in the project.
  const machinePath = /(?<![\w.:/~-])\/(?:home|root|Users|work|farm|tmp|mnt)\/[\w.]|[A-Z]:\\\\?(?:Users|Windows)/;
  const registryHost =
    /\b(?:registry|npm|pypi|packages|artifactory|nexus|verdaccio)\.[a-z0-9-]+\.(?:org|com|net|io|dev|local|internal)\b/i;
  const texts = everyFile.filter((path) => !/\.(png|woff2|pdf|ico)$/.test(path));

  it('name no place on one machine', () => expect(texts.filter((path) => machinePath.test(read(path)))).toEqual([]));

  it('name no package registry', () => {
    expect(texts.filter((path) => registryHost.test(read(path)))).toEqual([]);
    expect(read('package-lock.json')).not.toContain('"resolved"');
  });

  it('would see one', () => {
    expect(machinePath.test(`open('/${'home'}/someone/x')`)).toBe(true);
    expect(registryHost.test(['https://registry', 'example', 'org/x'].join('.'))).toBe(true);
    expect(machinePath.test('https://example.org/home/x')).toBe(false);
  });
});
