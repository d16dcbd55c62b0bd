import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hazardsOf } from '../../content/hazards.ts';
import { currentVersion } from '../../content/releases/index.ts';

const root = new URL('../', import.meta.url);
const isComment = (line: string) => /^\s*(\/\/|\*|\/\*)/.test(line);
/** Every hazard id in brackets anywhere in the tests, comments aside. */
const named = new Set(
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.tsx?$/.test(file))
    .flatMap((file) => readFileSync(new URL(file, root), 'utf8').split('\n'))
    .filter((line) => !isComment(line))
    .flatMap((line) => line.match(/\[Z\d+\]/g) ?? []),
);

describe('hazards', () => {
  const hazards = hazardsOf(currentVersion) ?? [];

  it('are numbered without a gap, twenty-eight at least', () => {
    expect(hazards.length).toBeGreaterThanOrEqual(28);
    expect(hazards.map(({ id }) => id)).toEqual(hazards.map((_, index) => `Z${index + 1}`));
  });

  it.each(hazards)('$id, $situation, has a test that names it', ({ tests }) => {
    expect(tests.filter((id) => !named.has(`[${id}]`))).toEqual([]);
  });
});
