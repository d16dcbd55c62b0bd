/** What the app ships, by part, against the smallest bundle of the same libraries. */
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { TraceMap, eachMapping } from '@jridgewell/trace-mapping';
import { shipped } from './built.ts';
import { ratio, type Row } from './stats.ts';

const kB = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`;
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const code = ['js', 'css'];

/** @param folder holds the built `app` and `hello` */
export async function sizeRows(folder: string): Promise<Row[]> {
  const [app, hello] = await Promise.all([shipped(join(folder, 'app')), shipped(join(folder, 'hello'))]);
  const own = app.filter(({ kind, file }) => code.includes(kind) && !file.startsWith('sw.'));
  const first = await firstPaint(join(folder, 'app'), own);
  const floor = sum(hello.filter(({ kind }) => kind === 'js').map(({ gzip }) => gzip));
  const row = (what: string, bytes: number, goal: number): Row => ({
    what,
    measured: kB(bytes),
    against: `${kB(floor)}: hello world of Solid, XState, idb-keyval, valibot`,
    ratio: ratio(bytes, floor),
    goal: `≤ ${goal} kB`,
  });
  return [
    row('JavaScript and CSS with content, gzip', sum(own.map(({ gzip }) => gzip)), 64),
    row('of it, needed until the resumed case stands, gzip', first, 64),
    row('everything, with fonts, icons and worker, gzip', sum(app.map(({ gzip }) => gzip)), 150),
  ];
}

/** What the page itself names: the rest is fetched once it is drawn, or belongs to the worker. */
async function firstPaint(app: string, files: readonly { file: string; gzip: number }[]): Promise<number> {
  const page = await readFile(join(app, 'index.html'), 'utf8');
  return sum(files.filter(({ file }) => page.includes(file)).map(({ gzip }) => gzip));
}

const partOf = (source: string | null): string => {
  if (source === null) return 'content';
  const library = /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(source)?.[1];
  if (library) return `library ${library}`;
  return /(content|machines|src\/[a-z]+)\//.exec(source)?.[1] ?? 'src';
};

/**
 * The scripts by part, from their source maps. Each part is compressed alone, so that the sum is a little more than the
 * whole.
 */
export async function breakdown(folder: string): Promise<string> {
  const assets = join(folder, 'app', 'assets');
  const parts = new Map<string, string[]>();
  for (const file of (await readdir(assets)).filter((name) => name.endsWith('.js'))) {
    const [text, map] = await Promise.all([
      readFile(join(assets, file), 'utf8'),
      readFile(join(assets, `${file}.map`), 'utf8'),
    ]);
    const starts = [0];
    for (const line of text.split('\n')) starts.push((starts.at(-1) as number) + line.length + 1);
    const pieces: { at: number; source: string | null }[] = [];
    eachMapping(new TraceMap(map), ({ generatedLine, generatedColumn, source }) =>
      pieces.push({ at: (starts[generatedLine - 1] as number) + generatedColumn, source }),
    );
    pieces.sort((a, b) => a.at - b.at);
    pieces.forEach(({ at, source }, i) => {
      const part = partOf(source);
      const texts = parts.get(part) ?? [];
      texts.push(text.slice(at, pieces[i + 1]?.at));
      parts.set(part, texts);
    });
  }
  const sizes = [...parts].map(([part, texts]) => ({ part, bytes: gzipSync(texts.join(''), { level: 9 }).length }));
  const listed = sizes.filter(({ bytes }) => bytes >= 400).sort((a, b) => b.bytes - a.bytes);
  return [
    '| part | gzip, alone |',
    '| --- | --- |',
    ...listed.map(({ part, bytes }) => `| ${part} | ${kB(bytes)} |`),
  ].join('\n');
}
