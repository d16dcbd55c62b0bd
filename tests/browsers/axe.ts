/** What an open tool for accessibility finds wrong with a page. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const rules = ['wcag2a', 'wcag2aa', 'wcag2aaa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** Violations of WCAG A to AAA on the page as it stands, named with their places. */
export async function violations(page: Page): Promise<string[]> {
  if (!(await page.evaluate('typeof axe === "object"'))) await page.evaluate(axe);
  return page.evaluate<string[]>(`axe.run(document, { runOnly: ${JSON.stringify(rules)} })
    .then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes.map((node) => node.target.join(' ')).slice(0, 3).join(', ')))`);
}
