/** What holds for the account of a broken screw, whatever was told of it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EntryOf } from '../../machines/entry.ts';
import { toleranceOf } from '../../machines/compute/metal.ts';
import { explore } from '../explore.ts';
import type { Log } from './build.ts';
import { told, out, shears, piece, head, plateOut, stays, gone, type Do, type How } from './metal.told.ts';

describe('over anything that can be told of a broken screw', () => {
  interface Said {
    first: number | null;
    pieces: { length: number; how: How }[];
    head: EntryOf<'head-seen'>['head'] | null;
    plate: boolean;
    gone: { what: 'head' | 'shank'; length: number | null } | null;
    last: { end: 'out'; recovered: number | null } | { end: 'stays'; length: number | null; image: boolean } | null;
  }
  const mm = fc.integer({ min: 0, max: 40 });
  const how = fc.constantFrom<How>('measured', 'image', 'difference');
  const said: fc.Arbitrary<Said> = fc.record({
    first: fc.option(mm),
    pieces: fc.array(fc.record({ length: mm, how }), { maxLength: 3 }),
    head: fc.option(fc.constantFrom('piece', 'in-plate', 'shavings', 'partly', 'not-seen')),
    plate: fc.boolean(),
    gone: fc.option(fc.record({ what: fc.constantFrom('head', 'shank'), length: fc.option(mm) })),
    last: fc.option(
      fc.oneof(
        fc.record({ end: fc.constant('out' as const), recovered: fc.option(mm) }),
        fc.record({ end: fc.constant('stays' as const), length: fc.option(mm), image: fc.boolean() }),
      ),
    ),
  });
  const logOf = ({ first, pieces, head: place, plate, gone: lost, last }: Said): Log => {
    const steps: Do[] = [shears(first === null ? {} : { recovered: first, lengthHow: 'measured' })];
    for (const one of pieces) steps.push(piece(one.length, one.how));
    if (place) steps.push(head(place));
    if (plate) steps.push(plateOut);
    if (lost) steps.push(gone(lost.what, lost.length ?? undefined));
    if (last?.end === 'out') steps.push(out(last.recovered ?? undefined));
    if (last?.end === 'stays')
      steps.push(
        stays(last.length, {
          imageTaken: last.image,
          ...(last.length !== null && { lengthHow: last.image ? 'image' : 'measured' }),
        }),
      );
    return told(...steps);
  };
  /** What was measured, what an image showed, and how many things more were said that nobody measured. */
  function known({ first, pieces, head: place, plate, gone: lost, last }: Said) {
    const measured = pieces.filter((one) => one.how === 'measured').map(({ length }) => length);
    if (first !== null) measured.push(first);
    if (last?.end === 'out' && last.recovered !== null) measured.push(last.recovered);
    const images = pieces.filter((one) => one.how === 'image').map(({ length }) => length);
    const others: number[] = [];
    if (lost && lost.length !== null) others.push(lost.length);
    if (last?.end === 'stays' && last.length !== null) (last.image ? images : others).push(last.length);
    const silent =
      pieces.filter((one) => one.how === 'difference').length +
      (last?.end === 'out' && last.recovered === null ? 1 : 0);
    const inShavings = place === 'shavings' && lost?.what !== 'head';
    const unsaid =
      silent +
      (lost && lost.length === null ? 1 : 0) +
      (last?.end === 'stays' && last.length === null ? 1 : 0) +
      (inShavings || ['in-plate', 'partly', 'not-seen'].includes(place ?? '') ? 1 : 0);
    const sum = [...measured, ...images, ...others].reduce((all, one) => all + one, 0);
    const mayBe =
      place === 'in-plate' && plate ? 8 : lost?.length === null && lost.what === 'head' ? 8 : inShavings ? 8 : Infinity;
    return { measured, images, unsaid, rest: 36 - sum, mayBe };
  }
  const runs = { numRuns: 200 };

  it('nothing is stretched: what came out is the sum of what was measured', () => {
    explore(
      fc.property(said, (one) => {
        const { recovered } = logOf(one).of('1').metal;
        const sum = known(one).measured.reduce((all, length) => all + length, 0);
        expect(recovered === null || recovered === sum).toBe(true);
      }),
      runs,
    );
  });

  it('two things that nobody measured never close', () => {
    let seen = 0;
    explore(
      fc.property(said, (one) => {
        const { unsaid, images, rest, measured } = known(one);
        const within = toleranceOf(measured.length + images.length, 1) + images.length * 2;
        if (unsaid < 2 || rest <= within) return;
        seen++;
        expect([null, 'open']).toContain(logOf(one).of('1').metal.closes);
      }),
      runs,
    );
    expect(seen).toBeGreaterThan(5);
  });

  it('what closes as measured makes up the length; what an image showed closes as the difference at best', () => {
    explore(
      fc.property(said, (one) => {
        const { images, rest } = known(one);
        const { closes, unaccounted } = logOf(one).of('1').metal;
        if (closes !== 'measured') return;
        expect(images).toEqual([]);
        expect(rest).toBeLessThanOrEqual(2 + 1e-9);
        expect(unaccounted).toBe(rest);
      }),
      runs,
    );
  });

  it('the difference never covers more than the one thing said explains', () => {
    let seen = 0;
    explore(
      fc.property(said, (one) => {
        const { images, rest, unsaid, mayBe, measured } = known(one);
        if (logOf(one).of('1').metal.closes !== 'difference') return;
        seen++;
        const within = toleranceOf(measured.length + images.length, 1) + images.length * 2;
        expect(rest).toBeLessThanOrEqual(unsaid === 0 ? within : Math.max(within, mayBe + within) + 1e-9);
        expect(unsaid).toBeLessThanOrEqual(1 + (rest <= within ? Infinity : 0));
      }),
      runs,
    );
    expect(seen).toBeGreaterThan(5);
  });

  it('a measured piece more closes nothing that it does not make up the length of', () => {
    explore(
      fc.property(said, mm, (one, length) => {
        const before = logOf(one).of('1').metal.closes;
        const after = logOf({ ...one, pieces: [...one.pieces, { length, how: 'measured' }] }).of('1').metal;
        const { rest, images, mayBe, unsaid, measured } = known(one);
        if (before !== 'open' || after.closes === 'open' || after.closes === null) return;
        const within = toleranceOf(measured.length + images.length + 1, 1) + images.length * 2;
        expect(rest - length).toBeLessThanOrEqual((unsaid === 0 ? 0 : mayBe) + within + 1e-9);
        expect(unsaid <= 1 || rest - length <= within).toBe(true);
      }),
      runs,
    );
  });
});
