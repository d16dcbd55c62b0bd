/** What a case remembers of its parts and tips, of corrections and of screws that wait: one word after the other. */
import { describe, expect, it } from 'vitest';
import {
  cameBack,
  corrected,
  isCaseAnswer,
  tipMeant,
  withBroken,
  withDamage,
  withFoil,
  withPart,
  withPartEnd,
  withPartOff,
  withTipAnswer,
  emptyCase,
  type CaseContext,
  type Opening,
  type Part,
  type PutIn,
  type Tip,
} from '../../machines/case.context.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { content } from './build.ts';

const when = { at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:00Z' };
type Of<T extends 'part-listed' | 'part-ended' | 'tool-damaged' | 'hold-answered' | 'case-corrected'> = Partial<
  Omit<EntryOf<T>, 'type'>
>;
const listing = (more: Of<'part-listed'>): EntryOf<'part-listed'> => ({
  ...{ n: 9, ...when, type: 'part-listed', part: 'cable', kind: 'cable', ...more },
});
const ending = (more: Of<'part-ended'>): EntryOf<'part-ended'> => ({
  ...{ n: 9, ...when, type: 'part-ended', part: 'cable', end: 'out', ...more },
});
const none: CaseContext['parts'] = new Map();
const bare = { what: null, length: null, pieces: 1, listed: null, ends: [], off: null };
const unsaid = { complete: false, where: null, reason: null, image: null };

describe('a part that is listed', () => {
  it('is of its kind, in one piece, as nobody has said more', () => {
    expect([...withPart(none, listing({}))]).toEqual([['cable', { ...bare, id: 'cable', kind: 'cable', listed: 9 }]]);
    const told = { what: 'round the trochanter', length: 120, pieces: 3 };
    expect(withPart(none, listing(told)).get('cable')).toMatchObject(told);
  });

  it('again keeps what is not said anew, and the entry that listed it first', () => {
    const once = withPart(none, listing({ n: 4, what: 'long', length: 120, pieces: 3 }));
    expect(withPart(once, listing({ kind: 'wire' })).get('cable')).toMatchObject({
      ...{ kind: 'wire', what: 'long', length: 120, pieces: 3, listed: 4 },
    });
    expect(withPart(once, listing({ what: 'short', length: 0, pieces: 1 })).get('cable')).toMatchObject({
      ...{ what: 'short', length: 0, pieces: 1 },
    });
    expect(once.get('cable')?.kind).toBe('cable');
  });

  it('is a foil of its own for each pack of a recess', () => {
    const foils = withFoil(withFoil(none, '1', 7), '1', 8);
    expect([...foils.values()]).toEqual([
      { ...bare, id: 'foil-1-7', kind: 'foil', listed: 7 },
      { ...bare, id: 'foil-1-8', kind: 'foil', listed: 8 },
    ]);
  });
});

describe('a part of which somebody said where it is', () => {
  const ends = (...told: Of<'part-ended'>[]) => {
    let parts = none;
    for (const one of told) ({ parts } = withPartEnd({ parts, putIn: [] }, ending(one)));
    return parts.get('cable')?.ends;
  };

  it('keeps the word as it was said, of its first piece where none was named', () => {
    expect(ends({})).toEqual([{ n: 9, piece: 1, end: 'out', ...unsaid }]);
    const told = { complete: true, where: 'canal', reason: 'deep' };
    expect(ends({ ...told, end: 'left-in', piece: 2, imageTaken: false })).toEqual([
      { n: 9, piece: 2, end: 'left-in', ...told, image: false },
    ]);
    expect(ends({ complete: false })).toEqual([{ n: 9, piece: 1, end: 'out', ...unsaid }]);
  });

  it('goes by the last word on each piece', () => {
    const told = ends({ n: 3, piece: 1 }, { n: 4, piece: 2 }, { n: 5, piece: 1, end: 'not-found' });
    expect(told?.map(({ n, piece, end }) => [n, piece, end])).toEqual([
      [4, 2, 'out'],
      [5, 1, 'not-found'],
    ]);
  });

  it('is of its name where nobody listed it: plate and nail are what they are called', () => {
    const kind = (part: string) => withPartEnd({ parts: none, putIn: [] }, ending({ part })).parts.get(part)?.kind;
    expect(['plate', 'nail', 'cable'].map(kind)).toEqual(['plate', 'nail', 'other']);
  });
});

describe('a part that bears the name of one that was put in today', () => {
  const part = (more: Partial<Part>): Part => ({ ...bare, id: 'cable', kind: 'cable', ...more });
  const put: PutIn = {
    ...{ n: 6, part: 'cable', screw: undefined, kind: 'cable', length: undefined, where: 'femur' },
    ...{ ends: [], again: false },
  };
  const out = (n: number, piece = 1, more: object = {}) => ({ n, piece, end: 'out' as const, ...unsaid, ...more });
  /** Whether a word of now is on the part of old, or on what was put in. */
  const isOf = (before: Part | null, putIn: PutIn[] = [put]) => {
    const parts = before ? new Map([['cable', before]]) : none;
    const after = withPartEnd({ parts, putIn }, ending({}));
    const isOnNew = after.putIn.some((one, i) => one.ends.length > (putIn[i] as PutIn).ends.length);
    expect(after.parts === parts).toBe(isOnNew);
    return isOnNew ? 'new' : 'old';
  };

  it('is the new one only where all of the old one was out before', () => {
    expect(isOf(part({ ends: [out(3)] }))).toBe('new');
    expect(isOf(part({ ends: [out(7)] }))).toBe('old');
    expect(isOf(part({ ends: [out(6)] }))).toBe('old');
    expect(isOf(part({ ends: [{ ...out(3), end: 'left-in' }] }))).toBe('old');
    expect(isOf(part({ ends: [out(3), { ...out(4, 2), end: 'not-found' }], pieces: 2 }))).toBe('old');
    expect(isOf(part({ ends: [out(3)], pieces: 2 }))).toBe('old');
    expect(isOf(part({ ends: [out(3, 1, { complete: true })], pieces: 2 }))).toBe('new');
    expect(isOf(part({ ends: [out(3), out(4, 2)], pieces: 2 }))).toBe('new');
    expect(isOf(part({}))).toBe('old');
  });

  it('is the old one where nothing of its name was put in, or nothing of it was there before', () => {
    expect(isOf(part({ ends: [out(3)] }), [])).toBe('old');
    expect(isOf(part({ ends: [out(3)] }), [{ ...put, part: 'plate' }])).toBe('old');
    expect(isOf(null)).toBe('old');
  });

  it('is the last one that was put in under its name', () => {
    const parts = new Map([['cable', part({ ends: [out(3)] })]]);
    const { putIn } = withPartEnd({ parts, putIn: [put, { ...put, n: 8 }] }, ending({}));
    expect(putIn.map((one) => one.ends.length)).toEqual([0, 1]);
  });
});

describe('a part that was taken off the bone', () => {
  it('is off since the first word on it, and out only where that word says so too', () => {
    const off = withPartOff(none, 'plate', 9, false).get('plate');
    expect(off).toEqual({ ...bare, id: 'plate', kind: 'plate', off: 9 });
    const out = withPartOff(none, 'plate', 9, true).get('plate');
    expect(out?.ends).toEqual([{ n: 9, piece: 1, end: 'out', ...unsaid, complete: true }]);
    expect(withPartOff(withPartOff(none, 'plate', 4, false), 'plate', 9, false).get('plate')?.off).toBe(4);
  });

  it('is where somebody said that it is, whatever that word meant', () => {
    const { parts } = withPartEnd({ parts: none, putIn: [] }, ending({ part: 'plate', end: 'left-in' }));
    expect(
      withPartOff(parts, 'plate', 12, true)
        .get('plate')
        ?.ends.map(({ end }) => end),
    ).toEqual(['left-in']);
  });
});

const tip = (more: Partial<Tip>): Tip => ({
  ...{ tool: 'pick', entry: 4, listed: null, presumed: false, guessed: false, told: [4] },
  ...more,
});

describe('a tip', () => {
  it('of a tool that broke under a move is presumed, and a guess where nobody named the tool', () => {
    const first = tip({});
    expect(withBroken([first], { tool: 'gouge', named: true }, 7)).toEqual([
      first,
      { tool: 'gouge', entry: 7, listed: null, presumed: true, guessed: false, told: [7] },
    ]);
    expect(withBroken([], { tool: 'gouge', named: false }, 7)[0]?.guessed).toBe(true);
  });

  it('that is described takes the place of one that was presumed: of its tool, else of the first guess', () => {
    const damage = (tool: 'pick' | 'gouge', more: Of<'tool-damaged'> = {}): EntryOf<'tool-damaged'> => ({
      ...{ n: 9, ...when, type: 'tool-damaged', tool, how: 'tip gone', tipMissing: true, ...more },
    });
    const presumed = tip({ presumed: true, told: [3, 4] });
    const guess = tip({ tool: 'mallet', entry: 5, presumed: true, guessed: true, told: [5] });
    const known = { tool: 'pick', entry: 9, listed: 2, presumed: false, guessed: false };
    expect(withDamage([guess, presumed], damage('pick', { length: 2 }))).toEqual([
      guess,
      { ...known, told: [3, 4, 9] },
    ]);
    expect(withDamage([presumed, guess], damage('gouge'))).toEqual([
      presumed,
      { ...known, tool: 'gouge', listed: null, told: [5, 9] },
    ]);
    // What was described already, and what was named, is another one.
    expect(withDamage([tip({})], damage('pick'))).toHaveLength(2);
    expect(withDamage([tip({ guessed: true })], damage('gouge'))).toHaveLength(2);
    expect(withDamage([presumed], damage('gouge'))).toHaveLength(2);
    expect(withDamage([presumed, tip({ tool: 'gouge' })], damage('pick', { tipMissing: false }))).toEqual([
      tip({ tool: 'gouge' }),
    ]);
    expect(withDamage([tip({})], damage('pick', { tipMissing: false }))).toEqual([tip({})]);
  });

  const [pick, gouge] = [tip({ told: [3, 4] }), tip({ tool: 'gouge', entry: 6, told: [6] })];
  const tips = [pick, gouge];

  it('is the one that an answer names by any word on it, else the first of its tool, else the first that is open', () => {
    const meant = (said: Of<'hold-answered'>, tipsAnswered: number[] = []) => tipMeant({ tips, tipsAnswered }, said);
    expect([meant({ tip: 3 }), meant({ tip: 4 }), meant({ tip: 6 }), meant({ tip: 5 })]).toEqual([
      ...[pick, pick, gouge, undefined],
    ]);
    expect([meant({ tool: 'gouge' }), meant({ tool: 'mallet' }), meant({})]).toEqual([gouge, pick, pick]);
    expect([meant({}, [3]), meant({ tool: 'pick' }, [4]), meant({}, [3, 6])]).toEqual([gouge, gouge, undefined]);
    // Named, it is spoken of again.
    expect(meant({ tip: 4 }, [4])).toBe(pick);
  });

  const answer = (more: Of<'hold-answered'>): EntryOf<'hold-answered'> => ({
    ...{ n: 12, ...when, type: 'hold-answered', hold: 'find-tip', answer: 'found', ...more },
  });
  const context = (more: Partial<CaseContext> = {}): CaseContext => ({
    ...emptyCase({ content, byTime: true }),
    ...{ tips, tipsAnswered: [1], ...more },
  });

  it('that was found is a piece that came out, measured, by an image, or as nobody measured it', () => {
    const piece = (more: Of<'hold-answered'>) => withTipAnswer(context(), answer(more)).tipPieces;
    const one = { tool: 'pick', length: 3, image: false, tip: 4, complete: false };
    expect(piece({ length: 3, lengthHow: 'measured' })).toEqual([one]);
    expect(piece({ length: 3, lengthHow: 'image' })).toEqual([{ ...one, image: true }]);
    expect([piece({ length: 3, lengthHow: 'difference' }), piece({})]).toEqual([
      ...[[{ ...one, length: null }], [{ ...one, length: null }]],
    ]);
    const before = { ...one, tip: null } as const;
    const both = withTipAnswer(context({ tipPieces: [{ ...before, tool: 'pick' }] }), answer({ length: 3 })).tipPieces;
    expect(both).toEqual([before, one]);
  });

  it('that was not found, or is put off, was answered for and is no piece', () => {
    expect(withTipAnswer(context(), answer({ answer: 'later' }))).toEqual({ tips, tipsAnswered: [1, 4] });
    expect(withTipAnswer(context(), answer({ answer: 'not-found', tip: 6 }))).toEqual({ tips, tipsAnswered: [1, 6] });
    expect(withTipAnswer(context({ tips: [] }), answer({}))).toEqual({});
  });

  it('that was only a guess is of the tool that the answer names', () => {
    const guess = tip({ presumed: true, guessed: true });
    const said = (one: Tip, more: Of<'hold-answered'>) => withTipAnswer(context({ tips: [one, gouge] }), answer(more));
    const named = said(guess, { tool: 'mallet', tip: 4 });
    expect(named.tips).toEqual([{ ...guess, tool: 'mallet', guessed: false }, gouge]);
    expect(named.tipPieces?.[0]?.tool).toBe('mallet');
    expect(said(guess, { tip: 4 }).tips).toEqual([guess, gouge]);
    expect(said(pick, { tool: 'mallet', tip: 4 }).tips).toEqual([pick, gouge]);
  });
});

it('an opening reads with what was corrected, and with nothing that was not said', () => {
  const opened: Opening = {
    ...{ n: 1, ...when, type: 'case-opened', label: 'Room 4', zone: 'UTC', side: 'left', bone: 'tibia' },
    ...{ construct: 'plate', planned: 'Plate out', placedMonthsAgo: 20, fragile: true },
  };
  const says = (more: Of<'case-corrected'>) =>
    corrected(opened, { n: 9, ...when, type: 'case-corrected', reason: 'wrong touch', ...more });
  expect(says({})).toEqual(opened);
  const all: Of<'case-corrected'> = {
    ...{ side: 'right', bone: 'femur', construct: 'nail', zone: 'Europe/Oslo', label: 'Room 5' },
    ...{ placedBy: 'other-team', placedMonthsAgo: 0, limb: 'lower', patient: 'child', fragile: null },
  };
  expect(says(all)).toEqual({ ...opened, ...all });
});

it('a screw that somebody has come back to waits no more', () => {
  const waiting = ['1', '2', '3'];
  expect(cameBack({ waiting }, '2')).toEqual({ waiting: ['1', '3'] });
  expect(cameBack({ waiting }, '4').waiting).toBe(waiting);
});

it('three holds on the case are closed by an answer for good', () => {
  const closes = content.ids.holds.filter(isCaseAnswer);
  expect([...closes].sort()).toEqual(['hard-metal', 'shavings', 'time']);
});
