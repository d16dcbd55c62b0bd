import { describe, expect, it } from 'vitest';
import { through } from '../../machines/compute/through.ts';

function* counting(pauses: number, seen: number[]): Generator<void, string> {
  for (let i = 1; i <= pauses; i++) {
    seen.push(i);
    yield;
  }
  return `after ${pauses}`;
}

describe('a computation that can pause', () => {
  it.each([0, 1, 3])('is run through its %d pauses to its result', (pauses) => {
    const seen: number[] = [];
    expect(through(counting(pauses, seen))).toBe(`after ${pauses}`);
    expect(seen).toHaveLength(pauses);
  });

  it('passes on what goes wrong on the way', () => {
    const broken = function* (): Generator<void, never> {
      yield;
      throw new RangeError('no such bone');
    };
    expect(() => through(broken())).toThrow('no such bone');
  });
});
