/** The words of the screens: none missing, none unused, none with a place that nobody fills. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const folder = join(root, 'content/words/en');
const files = readdirSync(folder);
const words = Object.assign({}, ...files.map((file) => JSON.parse(readFileSync(join(folder, file), 'utf8')))) as Record<
  string,
  string
>;

function sources(at: string): string[] {
  return readdirSync(at, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? sources(join(at, entry.name))
      : /\.tsx?$/.test(entry.name)
        ? [readFileSync(join(at, entry.name), 'utf8')]
        : [],
  );
}
const code = ['src', 'content'].flatMap((floor) => sources(join(root, floor))).join('\n');
/** Keys written out, and the beginnings of keys that end in something computed. */
const literal = new Set(
  [...code.matchAll(/['"`]([a-z][a-z-]*(?:\.[a-zA-Z0-9-]+)+)['"`]/g)].map((match) => match[1] as string),
);
const begun = [
  ...new Set([...code.matchAll(/`([a-z][a-z-]*\.(?:[a-zA-Z0-9-]+[.-])*)\$\{/g)].map((match) => match[1] as string)),
];

describe('the words of the screens', () => {
  it('are each in one file only', () => {
    const keys = files.flatMap((file) => Object.keys(JSON.parse(readFileSync(join(folder, file), 'utf8')) as object));
    expect(keys.filter((key, i) => keys.indexOf(key) !== i)).toEqual([]);
  });

  it('are there for every key that a screen names', () => {
    const prefixes = new Set(Object.keys(words).map((key) => key.split('.')[0]));
    const asked = [...literal].filter(
      (key) =>
        prefixes.has(key.split('.')[0] as string) &&
        /(?:\bw|words|key)/.test(code) &&
        !key.endsWith('.ts') &&
        !key.endsWith('.tsx') &&
        !key.endsWith('.css'),
    );
    expect(asked.filter((key) => !(key in words))).toEqual([]);
  });

  it('are all used', () => {
    // Words of failures and faults are looked up by their codes: `tests/session/failures.test.ts` holds them together.
    const unused = Object.keys(words).filter(
      (key) => !literal.has(key) && !begun.some((start) => key.startsWith(start)) && !/^(failure|fault)\./.test(key),
    );
    expect(unused).toEqual([]);
  });

  it.each(['en', 'de'])('call a seal what the chain has, and nothing that a passcode does: %s', (language) => {
    const at = join(root, 'content/words', language);
    const all = readdirSync(at)
      .filter((file) => file.endsWith('.json'))
      .flatMap((file) => Object.entries(JSON.parse(readFileSync(join(at, file), 'utf8')) as Record<string, string>));
    const speaking = all.filter(([, text]) => /seal|siegel/i.test(text)).map(([key]) => key);
    expect(speaking.sort()).toEqual([
      'across.not.broken',
      ...['cases.import-broken', 'cases.seals-broken', 'cases.seals-none', 'cases.seals-whole'],
      ...['data.changed', 'data.changed-left'],
      'record.output-help.case',
    ]);
  });
});
