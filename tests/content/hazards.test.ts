import { describe, expect, it } from 'vitest';
import { hazardsOf } from '../../content/hazards.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { namedHazards as named } from './named-hazards.ts';

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
