/** Tables of figures in Markdown, of which one row at a time is written anew. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { format, resolveConfig } from 'prettier';

const root = resolve(import.meta.dirname, '..');

/** The short id of the commit that lies here, with a plus when something below the folders is not in it yet. */
export function commit(...folders: string[]): string {
  const git = (...args: string[]) => execFileSync('git', args, { cwd: root, encoding: 'utf8' }).trim();
  return git('rev-parse', '--short', 'HEAD') + (git('status', '--porcelain', '--', ...folders) ? '+' : '');
}

/** @example today() // '2026-03-04' */
export const today = (): string => new Date().toISOString().slice(0, 10);

export interface Table {
  path: string;
  /** Heading and what the columns mean. */
  intro: string;
  columns: readonly string[];
  /** How many of the columns, from the left, hold words; the others hold figures. */
  words: number;
}

/**
 * Puts a row in place of the one with the same first cell, the others as they are, in the order of their first cells.
 *
 * @param keep whether an old row is still of use, by its first cell
 */
export async function writeRow(
  { path, intro, columns, words }: Table,
  row: readonly string[],
  keep: (first: string) => boolean = () => true,
): Promise<void> {
  const old = existsSync(path) ? readFileSync(path, 'utf8') : '';
  const rows = old
    .split('\n')
    .filter((line) => line.startsWith('| '))
    .slice(2)
    .map((line) =>
      line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    )
    .filter(([first]) => first !== row[0] && keep(first as string));
  const all = [...rows, row].sort(([a], [b]) => ((a as string) < (b as string) ? -1 : 1));
  const lines = [columns, columns.map((_, i) => (i < words ? '---' : '--:')), ...all];
  const text = `${intro}\n${lines.map((cells) => `| ${cells.join(' | ')} |`).join('\n')}\n`;
  writeFileSync(path, await format(text, { ...(await resolveConfig(path)), filepath: path }));
}
