import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

/** The sheets whose rules stand over every element of the table. */
const sheets = [
  'theme.css',
  'parts/parts.css',
  'pictures/pictures.css',
  'screens/table/table.css',
  'screens/table/sheets.css',
  'screens/table/second.css',
  'screens/closing.css',
];

// A rule that asks what lies within an element makes the browser look through all of it at every change.
it.each(sheets)('%s asks nothing of what lies within an element', (sheet) => {
  const text = readFileSync(new URL(`../../src/${sheet}`, import.meta.url), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  expect(text).toContain('{');
  expect([...text.matchAll(/^.*:has\(.*$/gm)].map(([line]) => line)).toEqual([]);
});
