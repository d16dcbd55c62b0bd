/** The account of the metal in format 2: a table of what can be told of a screw, and how its account closes by that. */
import { describe, expect, it } from 'vitest';
import type { MetalAccount } from '../../machines/view.types.ts';
import { faultsOf, fileOf, isCounted, table2 } from './build-2.ts';
import type { Log } from './build.ts';
import {
  told,
  out,
  breaks,
  shears,
  write,
  piece,
  allOfIt,
  head,
  plateOut,
  stays,
  gone,
  ends,
  image,
  type Do,
} from './metal.told.ts';

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
