/** The account of the metal in format 2: what each piece is known by, and how an account closes by what was said of it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EntryDraft, EntryOf } from '../../machines/entry.ts';
import { toleranceOf } from '../../machines/compute/metal.ts';
import type { MetalAccount } from '../../machines/view.types.ts';
import { explore } from '../explore.ts';
import { faultsOf, fileOf, isCounted, table2 } from './build-2.ts';
import type { Log } from './build.ts';

type How = 'measured' | 'image' | 'difference';
type Do = (log: Log) => Log;
const told = (...steps: Do[]) => steps.reduce((log, one) => one(log), table2());
/** A move that brought it out, with or without a length. */
const out =
  (recovered?: number, lengthHow: How = 'measured', more: Partial<EntryOf<'move-ended'>> = {}): Do =>
  (log) =>
    log.tries('1', 'gouge-and-grip', 'out', { ...(recovered !== undefined && { recovered, lengthHow }), ...more });
const breaks =
  (recovered?: number, reachable = false, lengthHow: How = 'measured'): Do =>
  (log) =>
    log.tries('1', 'turn-out', 'shank-broke', { reachable, ...(recovered !== undefined && { recovered, lengthHow }) });
const shears =
  (more: Partial<EntryOf<'move-ended'>> = {}): Do =>
  (log) =>
    log.tries('1', 'turn-out', 'head-sheared', more);
const write =
  (draft: EntryDraft): Do =>
  (log) =>
    log.write(draft);
const piece = (length: number, lengthHow: How = 'measured', more: object = {}): Do =>
  write({ type: 'piece-recovered', screw: '1', length, lengthHow, ...more });
const allOfIt = (more: object = {}): Do => write({ type: 'piece-recovered', screw: '1', complete: true, ...more });
const head = (place: EntryOf<'head-seen'>['head'], more: object = {}): Do =>
  write({ type: 'head-seen', screw: '1', head: place, ...more });
const plateOut: Do = write({ type: 'part-ended', part: 'plate', end: 'out' });
const stays = (length: number | null, more: object = {}): Do =>
  write({ type: 'left-in', screw: '1', length, where: 'far cortex', reason: 'more bone lost', ...more });
const gone = (what: 'head' | 'shank' | 'all', length?: number, lengthHow: How = 'measured'): Do =>
  write({ type: 'destroyed', screw: '1', what, how: 'burr', ...(length !== undefined && { length, lengthHow }) });
const ends: Do = write({ type: 'work-ended' });
const image = { imageTaken: true };

type Row = [said: string, log: () => Log, account: Partial<MetalAccount>];
/** A screw of 36 mm, by what was told of it. */
const rows: Row[] = [
  // Every piece measured.
  ['out, 36 measured', () => told(out(36)), { recovered: 36, unaccounted: 0, closes: 'measured' }],
  ['out, 35 measured', () => told(out(35)), { recovered: 35, unaccounted: 1, closes: 'measured' }],
  ['out, 34.9 measured', () => told(out(34.9)), { closes: 'open' }],
  ['out, 39 measured', () => told(out(39)), { recovered: 39, unaccounted: -3, closes: 'measured' }],
  ['in two pieces, 20 and 14', () => told(breaks(20), out(14)), { recovered: 34, unaccounted: 2, closes: 'measured' }],
  ['in two pieces, 20 and 13.9', () => told(breaks(20), out(13.9)), { closes: 'open' }],
  ['in three pieces, 3 mm short', () => told(breaks(11), piece(11), out(11)), { unaccounted: 3, closes: 'open' }],
  [
    '20 out and 16 measured where they stay',
    () => told(breaks(20), stays(16, { lengthHow: 'measured' })),
    { left: 16, unaccounted: 0, closes: 'measured' },
  ],
  [
    '20 out and 16 measured before they were burred',
    () => told(breaks(20), out(0), gone('shank', 16)),
    { destroyed: 16, unaccounted: 0, closes: 'measured' },
  ],

  // Seen to be whole, with its tip and its head.
  [
    'out whole, 34 measured',
    () => told(out(34, 'measured', { whole: true })),
    { listed: 36, recovered: 34, unaccounted: 0, closes: 'measured' },
  ],
  [
    'all of it told after, 34 measured',
    () => told(piece(34, 'measured', { whole: true })),
    { listed: 36, recovered: 34, unaccounted: 0, closes: 'measured' },
  ],
  [
    'called whole after its head sheared',
    () => told(shears(), out(29, 'measured', { whole: true })),
    { recovered: 29, unaccounted: 7, closes: 'open' },
  ],
  [
    'called whole after it was drilled off',
    () =>
      told(
        (log) => log.tries('1', 'turn-out', 'slipped').looksAgain('1').tries('1', 'drill-head-off', 'set-up-done'),
        out(29, 'measured', { whole: true }),
      ),
    { unaccounted: 7, closes: 'open' },
  ],
  [
    'called whole after it was burred',
    () => told((log) => log.tries('1', 'burr-out', 'moving'), out(29, 'measured', { whole: true })),
    { unaccounted: 7, closes: 'open' },
  ],
  [
    'out whole, and nobody measured',
    () => told(out(undefined, 'measured', { whole: true })),
    { recovered: null, unaccounted: 0, closes: 'assumed' },
  ],

  // Nobody measured.
  ['out', () => told(out()), { recovered: null, unaccounted: 0, closes: 'assumed' }],
  ['said to stay', () => told(stays(null)), { left: null, unaccounted: 0, closes: 'assumed' }],
  ['in, and the work is stopped', () => told(write({ type: 'stopped' })), { unaccounted: 0, closes: 'assumed' }],
  [
    'broken, and the work is stopped',
    () => told(breaks(20), write({ type: 'stopped' })),
    { unaccounted: 16, closes: 'open' },
  ],
  ['in', () => told(), { recovered: 0, unaccounted: 36, closes: null }],
  ['in, and the work has ended', () => told(ends), { unaccounted: 36, closes: 'open' }],
  ['broken, the rest out', () => told(breaks(), out()), { recovered: null, unaccounted: 36, closes: 'open' }],
  [
    'broken, one piece measured, the rest out',
    () => told(breaks(20), out()),
    { recovered: 20, unaccounted: 16, closes: 'open' },
  ],
  [
    'broken, the rest by difference',
    () => told(breaks(20), out(16, 'difference')),
    { recovered: 20, unaccounted: 16, closes: 'open' },
  ],
  ['head sheared, the rest out', () => told(shears(), out()), { unaccounted: 36, closes: 'open' }],

  // Laid together and called complete.
  ['broken, complete by eye', () => told(breaks(), allOfIt()), { recovered: null, unaccounted: 0, closes: 'assumed' }],
  [
    'broken, called complete, 14 mm short',
    () => told(breaks(14), piece(8), allOfIt()),
    { recovered: 22, unaccounted: 14, closes: 'open' },
  ],
  ['broken, called complete, 2 mm short', () => told(breaks(34), allOfIt()), { recovered: 34, closes: 'assumed' }],
  ['broken, called complete, 2.1 mm short', () => told(breaks(33.9), allOfIt()), { closes: 'open' }],
  [
    'broken, called complete, and measured',
    () => told(breaks(20), piece(15.5), allOfIt()),
    { recovered: 35.5, closes: 'measured' },
  ],

  // One thing more said of the rest: its head.
  [
    'head in the plate, which is out',
    () => told(shears({ head: 'in-plate' }), out(29), plateOut),
    { recovered: 29, unaccounted: 0, closes: 'difference' },
  ],
  [
    'head in the plate, told after',
    () => told(shears(), out(29), head('in-plate'), plateOut),
    { recovered: 29, unaccounted: 0, closes: 'difference' },
  ],
  [
    'head in the plate, of which nobody spoke',
    () => told(shears({ head: 'in-plate' }), out(29)),
    { unaccounted: 7, closes: 'open' },
  ],
  [
    'head in the plate, which is off the bone',
    () => told(shears({ head: 'in-plate' }), out(29), write({ type: 'plate-off' })),
    { unaccounted: 7, closes: 'open' },
  ],
  [
    'head in the washer, and the plate is out',
    () => told(shears(), out(29), head('in-plate', { part: 'washer' }), plateOut),
    { unaccounted: 7, closes: 'open' },
  ],
  [
    'head in the washer, which is out',
    () =>
      told(
        shears(),
        out(29),
        head('in-plate', { part: 'washer' }),
        write({ type: 'part-ended', part: 'washer', end: 'out' }),
      ),
    { unaccounted: 0, closes: 'difference' },
  ],
  [
    'head in the plate, 8 mm short',
    () => told(shears({ head: 'in-plate' }), out(28), plateOut),
    { closes: 'difference' },
  ],
  [
    'head in the plate, 13 mm more than a head',
    () => told(shears({ head: 'in-plate' }), out(15), plateOut),
    { recovered: 15, unaccounted: 13, closes: 'open' },
  ],
  [
    'head turned into shavings',
    () => told(shears({ head: 'shavings' }), out(29)),
    { destroyed: 7, unaccounted: 0, closes: 'difference' },
  ],
  [
    'head turned into shavings, said twice',
    () => told(shears({ head: 'shavings' }), out(29), gone('head')),
    { destroyed: 7, unaccounted: 0, closes: 'difference' },
  ],
  ['head partly seen', () => told(shears({ head: 'partly' }), out(29)), { unaccounted: 7, closes: 'open' }],
  ['head not seen', () => told(shears({ head: 'not-seen' }), out(29)), { unaccounted: 7, closes: 'open' }],
  [
    'head a piece of its own, not measured',
    () => told(shears({ head: 'piece' }), out(29)),
    { unaccounted: 7, closes: 'open' },
  ],
  [
    'head a piece of its own, measured',
    () => told(shears({ head: 'piece' }), piece(6.5), out(29)),
    { unaccounted: 0.5, closes: 'measured' },
  ],
  [
    'head not seen, although the pieces add up',
    () => told(shears({ head: 'not-seen' }), piece(20), out(15)),
    { recovered: 35, unaccounted: 1, closes: 'open' },
  ],
  [
    'head partly seen, although the pieces add up',
    () => told(shears({ head: 'partly' }), piece(20), out(16)),
    { recovered: 36, unaccounted: 0, closes: 'open' },
  ],
  [
    'head not seen at first, then all of it laid together',
    () => told(shears({ head: 'not-seen' }), piece(20), piece(15), allOfIt()),
    { recovered: 35, closes: 'measured' },
  ],
  [
    'the last word on the head counts',
    () => told(shears({ head: 'not-seen' }), out(29), head('shavings')),
    { closes: 'difference' },
  ],

  // One thing more said of the rest: it stays.
  [
    'the rest stays, with an image',
    () => told(breaks(20), stays(null, image)),
    { recovered: 20, left: 16, unaccounted: 0, closes: 'difference' },
  ],
  ['the rest stays, without one', () => told(breaks(20), stays(null)), { left: null, unaccounted: 16, closes: 'open' }],
  [
    'the rest stays, as an estimate, with an image',
    () => told(breaks(20), stays(9, { ...image, lengthHow: 'difference' })),
    { left: 16, unaccounted: 0, closes: 'difference' },
  ],
  [
    'nothing measured, the rest stays, with an image',
    () => told(breaks(), stays(null, image)),
    { unaccounted: 36, closes: 'open' },
  ],

  // One thing more said of the rest: it was burred away.
  [
    'the rest burred away',
    () => told(breaks(20), (log) => log.tries('1', 'burr-out', 'out'), gone('shank')),
    { recovered: 20, destroyed: 16, unaccounted: 0, closes: 'difference' },
  ],
  [
    'the rest burred away, last known as 16 mm',
    () => told(breaks(20), (log) => log.finds('1', { fragmentLength: 16 }), piece(0), gone('shank'), out(0)),
    { destroyed: 16, unaccounted: 0, closes: 'difference' },
  ],
  [
    'the rest burred away, last known as 10 mm',
    () => told(breaks(20), (log) => log.finds('1', { fragmentLength: 10 }), gone('shank'), out(0)),
    { unaccounted: 6, closes: 'open' },
  ],

  // Two things that nobody measured.
  [
    'head in shavings, and the rest stays',
    () => told(shears({ head: 'shavings' }), piece(10), stays(null, image)),
    { unaccounted: 26, closes: 'open' },
  ],
  [
    'head in the plate, the shank burred away',
    () => told(shears({ head: 'in-plate' }), piece(10), gone('shank'), plateOut, out(0)),
    { unaccounted: 26, closes: 'open' },
  ],
  [
    'the head burred away, a piece unmeasured',
    () => told(shears(), gone('head'), piece(9, 'difference'), out(20)),
    { unaccounted: 16, closes: 'open' },
  ],

  // By an image: within 2 mm, and never measured.
  ['out, 34 by an image', () => told(out(34, 'image')), { closes: 'difference' }],
  ['out, 36 by an image', () => told(out(36, 'image')), { closes: 'difference' }],
  ['out, 30 by an image', () => told(out(30, 'image')), { closes: 'open' }],
  [
    '20 out and 14.5 by an image where they stay',
    () => told(breaks(20), stays(14.5, { ...image, lengthHow: 'image' })),
    { left: 14.5, closes: 'difference' },
  ],
  [
    '20 out and 10 by an image where they stay',
    () => told(breaks(20), stays(10, { ...image, lengthHow: 'image' })),
    { left: 10, unaccounted: 6, closes: 'open' },
  ],
  [
    '26 by an image where they stay, and the head in the plate',
    () => told(shears({ head: 'in-plate' }), plateOut, stays(26, { ...image, lengthHow: 'image' })),
    { left: 26, unaccounted: 0, closes: 'difference' },
  ],
  [
    '23 by an image where they stay, and the head in the plate: 3 mm more than a head within an image',
    () => told(shears({ head: 'in-plate' }), plateOut, stays(23, { ...image, lengthHow: 'image' })),
    { left: 23, unaccounted: 3, closes: 'open' },
  ],
  [
    '29 measured where they stay, and the head in the plate',
    () => told(shears({ head: 'in-plate' }), plateOut, stays(29, { lengthHow: 'measured' })),
    { left: 29, unaccounted: 0, closes: 'difference' },
  ],
];

describe('a screw of 36 mm', () => {
  it.each(rows)('%s', (_, log, account) => {
    expect(faultsOf(fileOf(log().entries))).toEqual([]);
    expect(log().view.outOfOrder).toEqual([]);
    expect(log().of('1').metal).toMatchObject(account);
  });

  it.each(rows)('%s: the count asks for what is open', (_, log, { closes }) => {
    const parts = log().fork().write({ type: 'part-ended', part: 'plate', end: 'out' });
    // A head in the plate goes with it.
    const { metal } = parts.write({ type: 'work-ended' }).of('1');
    expect(isCounted(parts)).toBe(metal.closes !== 'open');
    if (closes === 'measured' || closes === 'assumed' || closes === 'difference') expect(isCounted(parts)).toBe(true);
  });

  it('of unknown length is open when it broke, and whole when nothing did', () => {
    const unknown = (...steps: Do[]) => steps.reduce((log, one) => one(log), table2({ length: null })).of('1').metal;
    expect(unknown(out())).toMatchObject({ listed: null, closes: 'assumed' });
    expect(unknown(out(30))).toMatchObject({ recovered: 30, unaccounted: 0, closes: 'assumed' });
    expect(unknown(out(30, 'measured', { whole: true }))).toMatchObject({ recovered: 30, closes: 'measured' });
    expect(unknown(breaks(20), out(10))).toMatchObject({ unaccounted: null, closes: 'open' });
    expect(unknown(breaks(), allOfIt())).toMatchObject({ closes: 'assumed' });
  });

  it('listed as broken from the start has the length of what is in the body', () => {
    const log = out(18)(table2({ stage: 'fragment-retained', length: 18 }));
    expect(log.of('1').metal).toMatchObject({ listed: 18, recovered: 18, unaccounted: 0, closes: 'measured' });
  });
});

describe('a break that is told late of a screw that is out', () => {
  const day = (time: string) => `2026-03-04T${time}Z`;
  const late = (log: Log) =>
    log
      .begins('1', 'turn-out', { at: day('09:00:00'), logged: day('10:20:00') })
      .ends('1', 'shank-broke', { reachable: true, at: day('09:01:00'), logged: day('10:20:30') });
  const whole = (more: object) =>
    table2()
      .begins('1', 'turn-out', { at: day('10:00:00') })
      .ends('1', 'out', { at: day('10:02:00'), ...more });

  it('opens the account of one that was called whole, until somebody says that it is all of it', () => {
    const log = whole({ recovered: 36, lengthHow: 'measured', whole: true });
    expect(log.of('1').metal.closes).toBe('measured');
    expect(late(log).of('1')).toMatchObject({ stage: 'out', metal: { closes: 'open' } });
    expect(allOfIt()(log).of('1')).toMatchObject({ stage: 'out', metal: { recovered: 36, closes: 'measured' } });
  });

  it('opens the account of one that nobody measured, until it is called complete', () => {
    const log = late(whole({}));
    expect(log.of('1').metal.closes).toBe('open');
    expect(allOfIt()(log).of('1').metal).toMatchObject({ recovered: null, closes: 'assumed' });
  });
});

describe('all of it', () => {
  it('ends a screw as out, also one that was said to stay', () => {
    expect(told(breaks(20), piece(15), allOfIt()).of('1').stage).toBe('out');
    const left = told(stays(null));
    expect(left.of('1').stage).toBe('left-in');
    expect(allOfIt()(left).of('1')).toMatchObject({ stage: 'out', metal: { closes: 'assumed' } });
  });

  it('is said by somebody: what adds up ends nothing', () => {
    const log = told(breaks(20), piece(16));
    expect(log.of('1')).toMatchObject({ stage: 'fragment-retained', metal: { recovered: 36, closes: 'open' } });
    expect(piece(0, 'measured', { complete: false })(log).of('1').stage).toBe('fragment-retained');
  });

  it('brings the move that runs to its end', () => {
    const log = allOfIt()(told().begins('1', 'turn-out'));
    expect(log.of('1')).toMatchObject({ stage: 'out', move: null });
  });
});

describe('a screw that came out short', () => {
  const short = (more: Do = (log) => log, recovered = 20) => out(recovered)(more(table2()));
  const why = (answer: EntryOf<'length-answered'>['answer'], reachable?: boolean): Do =>
    write({ type: 'length-answered', screw: '1', answer, ...(reachable !== undefined && { reachable }) });

  it('counts as in, in the stage that it was in, until somebody says why', () => {
    const log = short();
    expect(log.of('1')).toMatchObject({
      ...{ stage: 'seated', lengthAsked: log.n, move: null },
      metal: { recovered: 20, unaccounted: 16, closes: 'open' },
    });
    expect(log.of('1').offered.length).toBeGreaterThan(0);
    expect(log.view.outOfOrder).toEqual([]);
    expect(isCounted(log)).toBe(false);
    const stripped = short((before) => before.tries('1', 'turn-out', 'slipped').looksAgain('1'));
    expect(stripped.of('1')).toMatchObject({ stage: 'recess-stripped', lengthAsked: stripped.n });
  });

  it.each<[string, Do, object]>([
    ['broke, and the stump can be reached', why('broke', true), { stage: 'head-sheared', metal: { closes: 'open' } }],
    [
      'broke, and only a fragment is left',
      why('broke', false),
      { stage: 'fragment-retained', metal: { closes: 'open' } },
    ],
    ['was listed wrong', why('listed-wrong'), { stage: 'out', metal: { recovered: 20, closes: 'measured' } }],
    ['lost its rest', why('lost'), { stage: 'out', metal: { unaccounted: 16, closes: 'open' } }],
  ])('%s', (_, answer, said) => {
    const log = answer(short());
    expect(log.of('1')).toMatchObject({ ...said, lengthAsked: null });
    expect(faultsOf(fileOf(log.entries))).toEqual([]);
  });

  it('that broke goes on as a broken one: the rest that comes out makes up its length', () => {
    const log = out(15.5)(why('broke', true)(short()));
    expect(log.of('1')).toMatchObject({
      stage: 'out',
      lengthAsked: null,
      metal: { recovered: 35.5, closes: 'measured' },
    });
    const inside = stays(null, image)(why('broke', false)(short()));
    expect(inside.of('1')).toMatchObject({ stage: 'left-in', metal: { left: 16, closes: 'difference' } });
  });

  it('is all of it after all, when it was seen to be whole', () => {
    const log = write({ type: 'piece-recovered', screw: '1', whole: true })(short());
    expect(log.of('1')).toMatchObject({
      stage: 'out',
      lengthAsked: null,
      metal: { recovered: 20, closes: 'measured' },
    });
  });

  it('is asked about once its length is asked for, and is not answered before', () => {
    const log = why('listed-wrong')(told(out(36)));
    expect(log.view.outOfOrder).toEqual([log.n]);
  });

  it.each<[string, () => Log]>([
    ['within the tolerance', () => told(out(35))],
    ['seen to be whole', () => told(out(20, 'measured', { whole: true }))],
    ['unmeasured', () => told(out())],
    ['of unknown length', () => out(20)(table2({ length: null }))],
    ['short by what was said of its head', () => told(shears({ head: 'shavings' }), out(29))],
  ])('is not asked about %s', (_, log) => expect(log().of('1')).toMatchObject({ stage: 'out', lengthAsked: null }));

  it('and was known to have broken is out, and open', () => {
    const log = short(shears());
    expect(log.of('1')).toMatchObject({ stage: 'out', metal: { recovered: 20, unaccounted: 16, closes: 'open' } });
  });
});

describe('the tip of a broken tool', () => {
  const damaged = (length?: number): Do =>
    write({
      ...{ type: 'tool-damaged', tool: 'gouge', how: 'tip gone', tipMissing: true },
      ...(length !== undefined && { length, lengthHow: 'measured' }),
    });
  const found = (more: object): Do => write({ type: 'piece-recovered', tool: 'gouge', ...more } as EntryDraft);
  const left = (more: object = {}): Do =>
    write({ type: 'left-in', tool: 'gouge', length: null, where: 'canal', reason: 'deep', ...more });
  const tips = (log: Log) => log.view.toolTips.map(({ closes }) => closes);
  /** Two tips of one tool, and the numbers of their breaking. */
  const two = () => {
    const log = told(out(), plateOut, damaged(4), damaged(6));
    return { log, first: log.n - 1, second: log.n };
  };

  it('is the one that the answer names by its breaking, whichever came first', () => {
    const { log, first, second } = two();
    expect(tips(log)).toEqual(['open', 'open']);
    const at = (tip: number, length: number) => found({ length, lengthHow: 'measured', tip })(log.fork());
    expect(tips(at(second, 6))).toEqual(['open', 'measured']);
    expect(tips(at(first, 4))).toEqual(['measured', 'open']);
    expect(tips(at(second, 4))).toEqual(['open', 'open']);
    expect(tips(left({ tip: second, ...image })(log.fork()))[0]).toBe('open');
    expect(faultsOf(fileOf(at(second, 6).entries))).toEqual([]);
  });

  it('is named by the end of the move that it broke under, also once its damage was described', () => {
    const log = table2().begins('1', 'gouge-and-grip', { tool: 'gouge' }).ends('1', 'tool-broke');
    const broke = log.n;
    expect(tips(found({ complete: true, tip: broke })(log.fork()))).toEqual(['assumed']);
    const described = damaged(4)(log);
    expect(tips(described)).toEqual(['open']);
    expect(tips(found({ length: 4, lengthHow: 'measured', tip: broke })(described))).toEqual(['measured']);
  });

  it('found and called all of it is assumed; found in a piece of which nobody said so it is open', () => {
    expect(tips(told(damaged(), found({ complete: true })))).toEqual(['assumed']);
    expect(tips(told(damaged(), found({ complete: false, length: 3, lengthHow: 'measured' })))).toEqual(['open']);
    expect(tips(told(damaged(), found({ length: 3, lengthHow: 'measured' })))).toEqual(['open']);
    expect(tips(told(damaged(6), found({ complete: true })))).toEqual(['assumed']);
    expect(tips(told(damaged(6), found({ complete: true, length: 2, lengthHow: 'measured' })))).toEqual(['open']);
  });

  it('known by an image alone closes as the difference at best', () => {
    expect(tips(told(damaged(4), found({ length: 3, lengthHow: 'image' })))).toEqual(['difference']);
    expect(tips(told(damaged(6), found({ length: 2, lengthHow: 'image' })))).toEqual(['open']);
  });

  it('found in part stays with an image as the difference, without one it is open', () => {
    const part = found({ length: 2, lengthHow: 'measured' });
    expect(tips(told(damaged(6), part, left(image)))).toEqual(['difference']);
    expect(tips(told(damaged(6), part, left()))).toEqual(['open']);
  });
});

describe('a word of format 1', () => {
  it('on what stays, without where its length comes from, is the difference', () => {
    const log = (more: object) => {
      const old = table2({}, { rules: undefined });
      old.tries('1', 'turn-out', 'shank-broke', { reachable: false, recovered: 20 });
      return old.leaves('1', { length: 9, ...more }).of('1').metal;
    };
    expect(log(image)).toMatchObject({ left: 16, unaccounted: 0, closes: 'difference' });
    expect(log({})).toMatchObject({ left: null, unaccounted: 16, closes: 'open' });
  });
});

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
