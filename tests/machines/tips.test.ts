/** By rules 1: two broken tips of one tool, in every order in which they, their pieces and what stays can be entered. */
import { describe, expect, it } from 'vitest';
import type { ToolId } from '../../content/ids.ts';
import { atTheTable, byRules, type Log } from './build.ts';

const tool: ToolId = 'conical-extractor';

/**
 * What may be entered, in letters. Expected accounts stand below as `[listed, recovered, left, unaccounted]`, worked out
 * by hand from *Metal*: a tip for each `tool-damaged` with `tipMissing`, and for each `tool-broke` that none describes.
 */
const words: Record<string, (log: Log) => Log> = {
  /** The tool broke under a move. */
  B: (log) => log.begins('1', tool, { tool }).ends('1', 'tool-broke'),
  /** A tool broke under a move, and nobody said which: taken for the extractor. */
  U: (log) => log.begins('1', tool).ends('1', 'tool-broke'),
  /** Damage, the tip missing: of unknown length, of 4 mm, of 6 mm. */
  D: (log) => log.write({ type: 'tool-damaged', tool, how: 'tip broke off', tipMissing: true }),
  D4: (log) => log.write({ type: 'tool-damaged', tool, how: 'tip broke off', tipMissing: true, length: 4 }),
  D6: (log) => log.write({ type: 'tool-damaged', tool, how: 'tip broke off', tipMissing: true, length: 6 }),
  /** Damage, nothing missing. */
  N: (log) => log.write({ type: 'tool-damaged', tool, how: 'edge blunt', tipMissing: false }),
  /** The same of another tool. */
  X4: (log) =>
    log.write({ type: 'tool-damaged', tool: 'reverse-tap', how: 'tip broke off', tipMissing: true, length: 4 }),
  /** The rest stays in, unmeasured. */
  L: (log) => log.write({ type: 'left-in', tool, length: null, where: 'canal', reason: 'deep' }),
};
const word = (name: string) => (log: Log) => {
  const [, kind, length] = /^([PLQ])([\d.]+)$/.exec(name) ?? [];
  if (kind === 'P') return log.write({ type: 'piece-recovered', tool, length: Number(length) });
  if (kind === 'Q') return log.write({ type: 'piece-recovered', tool: 'reverse-tap', length: Number(length) });
  if (kind === 'L') return log.write({ type: 'left-in', tool, length: Number(length), where: 'canal', reason: 'deep' });
  const said = words[name];
  if (!said) throw new Error(`no word ${name}`);
  return said(log);
};

/** The log of a case in which these were entered, and the screw then came out whole. */
const told = (names: readonly string[]): Log =>
  names.reduce((log, name) => word(name)(log), atTheTable()).tries('1', 'turn-out', 'out', { recovered: 36 });

const tipsOf = (log: Log) => byRules(1, log).toolTips;

type Account = readonly (number | null)[];
const accounts = (log: Log): Account[] =>
  tipsOf(log).map(({ listed, recovered, left, unaccounted }) => [listed, recovered, left, unaccounted]);
/** Does the count ask for words and an image, two roles having answered it? */
const isOpen = (log: Log) =>
  byRules(
    1,
    log
      .fork()
      .write({ type: 'work-ended' })
      .write({ type: 'count-answered', by: ['scrub', 'circulating'] }),
  ).holds.includes('count');

/** All orders of some words, each once. */
function orders(names: readonly string[]): string[][] {
  if (names.length === 0) return [[]];
  return [...new Set(names)].flatMap((first) => {
    const rest = names.toSpliced(names.indexOf(first), 1);
    return orders(rest).map((order) => [first, ...order]);
  });
}

describe('a tip is listed for each damage with a missing tip, and for each break that none describes', () => {
  const unknown = null;
  it.each<[string, (number | null)[]]>([
    ['B', [unknown]],
    ['D4', [4]],
    ['N', []],

    ['B B', [unknown, unknown]],
    ['B D4', [4]],
    // By the contract a break is described by damage *with* a missing tip alone, so that this tip is still open. Today
    // the word that nothing is missing takes it away.
    ['B N', []],
    ['D4 B', [4, unknown]],
    ['D4 D4', [4, 4]],
    ['D4 N', [4]],
    ['N B', [unknown]],
    ['N D4', [4]],
    ['N N', []],

    ['B B B', [unknown, unknown, unknown]],
    ['B B D4', [unknown, 4]],
    ['B B N', [unknown]], // by the contract both: see `B N`
    ['B D4 B', [4, unknown]],
    ['B D4 D4', [4, 4]],
    ['B D4 N', [4]],
    ['B N B', [unknown]], // by the contract both: see `B N`
    ['B N D4', [4]],
    ['B N N', []], // by the contract one: see `B N`
    ['D4 B B', [4, unknown, unknown]],
    ['D4 B D4', [4, 4]],
    ['D4 B N', [4]], // by the contract both: see `B N`
    ['D4 D4 B', [4, 4, unknown]],
    ['D4 D4 D4', [4, 4, 4]],
    ['D4 D4 N', [4, 4]],
    ['D4 N B', [4, unknown]],
    ['D4 N D4', [4, 4]],
    ['D4 N N', [4]],
    ['N B B', [unknown, unknown]],
    ['N B D4', [4]],
    ['N B N', []], // by the contract one: see `B N`
    ['N D4 B', [4, unknown]],
    ['N D4 D4', [4, 4]],
    ['N D4 N', [4]],
    ['N N B', [unknown]],
    ['N N D4', [4]],
    ['N N N', []],

    // Damage of unknown length is a tip like any other, and no longer a mere break.
    ['D', [unknown]],
    ['B D', [unknown]],
    ['B D D4', [unknown, 4]],
    ['B D N', [unknown]],
    ['D D4', [unknown, 4]],
    ['D4 D', [4, unknown]],
  ])('%s', (said, lengths) => expect(tipsOf(told(said.split(' '))).map(({ listed }) => listed)).toEqual(lengths));

  it('the described tip bears the number of its description, the undescribed one that of the end of its move', () => {
    const log = told(['B', 'B', 'D4']);
    const [second] = log.entries.filter(({ type }) => type === 'move-ended').slice(1);
    const damage = log.entries.find(({ type }) => type === 'tool-damaged');
    expect(tipsOf(log).map(({ entry }) => entry)).toEqual([second?.n, damage?.n]);
  });
});

describe('a break of a tool that nobody named is described by the damage of any tool', () => {
  const tips = (said: string) => tipsOf(told(said.split(' '))).map(({ tool, listed }) => [tool, listed]);
  it.each<[string, unknown[]]>([
    ['U', [[tool, null]]],
    ['U D4', [[tool, 4]]],
    ['U X4', [['reverse-tap', 4]]],
    // A named break is no other tool's.
    [
      'B X4',
      [
        [tool, null],
        ['reverse-tap', 4],
      ],
    ],
    // The tool that was named is looked for first.
    [
      'U B X4',
      [
        [tool, null],
        ['reverse-tap', 4],
      ],
    ],
    [
      'B U X4',
      [
        [tool, null],
        ['reverse-tap', 4],
      ],
    ],
    [
      'U U X4',
      [
        [tool, null],
        ['reverse-tap', 4],
      ],
    ],
    [
      'U X4 D4',
      [
        ['reverse-tap', 4],
        [tool, 4],
      ],
    ],
    [
      'U D4 X4',
      [
        [tool, 4],
        ['reverse-tap', 4],
      ],
    ],
    [
      'X4 U',
      [
        ['reverse-tap', 4],
        [tool, null],
      ],
    ],
  ])('%s', (said, expected) => expect(tips(said)).toEqual(expected));
});

/** Words, any order of which comes to one of a few ends, told by which of some words comes before which. */
function everyOrder(said: string, ends: (before: (a: string, b: string) => boolean) => [Account[], boolean]): void {
  it.each(orders(said.split(' ')).map((order) => [order.join(' '), order] as const))('%s', (_, order) => {
    const before = (a: string, b: string) => order.indexOf(a) < order.indexOf(b);
    const log = told(order);
    const [expected, open] = ends(before);
    expect(accounts(log)).toEqual(expected);
    expect(isOpen(log)).toBe(open);
    expect(log.view.outOfOrder).toEqual([]);
  });
}

describe('two described tips of 4 and 6 mm take what comes in the order in which they were told of', () => {
  // Nothing in the contract says which piece belongs to which tip: 4 mm out of the first and 6 mm out of the second
  // balance, the same pieces entered the other way round leave either tip 2 mm off, and the count open.
  describe('both pieces are found', () =>
    everyOrder('D4 D6 P4 P6', (before) => {
      const even = before('D4', 'D6') === before('P4', 'P6');
      const [first, second] = before('D4', 'D6') ? [4, 6] : [6, 4];
      if (even)
        return [
          [
            [first, first, 0, 0],
            [second, second, 0, 0],
          ],
          false,
        ];
      if (first === 4)
        return [
          [
            [4, 6, 0, -2],
            [6, 4, 0, 2],
          ],
          true,
        ];
      // The first tip of 6 mm still lacks 2 mm after the piece of 4 mm, so that the next piece is its own too.
      return [
        [
          [6, 10, 0, -4],
          [4, 0, 0, 4],
        ],
        true,
      ];
    }));

  describe('one is found, one stays', () =>
    everyOrder('D4 D6 P4 L', (before) =>
      // What stays unmeasured makes up the rest of the first tip that lacks something.
      before('D4', 'D6')
        ? [
            [
              [4, 4, 0, 0],
              [6, 0, 6, 0],
            ],
            false,
          ]
        : [
            [
              [6, 4, 2, 0],
              [4, 0, 0, 4],
            ],
            true,
          ],
    ));

  describe('both stay', () =>
    everyOrder('D4 D6 L L', (before) => {
      const [first, second] = before('D4', 'D6') ? [4, 6] : [6, 4];
      return [
        [
          [first, 0, first, 0],
          [second, 0, second, 0],
        ],
        false,
      ];
    }));

  describe('one stays, measured, and nothing is known of the other', () =>
    everyOrder('D4 D6 L4', (before) =>
      before('D4', 'D6')
        ? [
            [
              [4, 0, 4, 0],
              [6, 0, 0, 6],
            ],
            true,
          ]
        : [
            [
              [6, 0, 4, 2],
              [4, 0, 0, 4],
            ],
            true,
          ],
    ));
});

describe('two tips that nobody described are each accounted for by one word, measured or not', () => {
  describe('one piece', () =>
    everyOrder('B B P3', () => [
      [
        [null, 3, 0, null],
        [null, 0, 0, null],
      ],
      true,
    ]));
  describe('two pieces', () =>
    everyOrder('B B P3 P5', (before) => {
      const [first, second] = before('P3', 'P5') ? [3, 5] : [5, 3];
      return [
        [
          [null, first, 0, null],
          [null, second, 0, null],
        ],
        false,
      ];
    }));
  describe('a piece and what stays', () =>
    everyOrder('B B P3 L', () => [
      [
        [null, 3, 0, null],
        [null, 0, 0, null],
      ],
      false,
    ]));
  describe('what stays, twice, once measured', () =>
    everyOrder('B B L L2', (before) => {
      const [first, second] = before('L', 'L2') ? [0, 2] : [2, 0];
      return [
        [
          [null, 0, first, null],
          [null, 0, second, null],
        ],
        false,
      ];
    }));
  describe('three pieces: the last tip takes all that is over', () =>
    everyOrder('B B P3 P3 P3', () => [
      [
        [null, 3, 0, null],
        [null, 6, 0, null],
      ],
      false,
    ]));
});

describe('a break and a damage are one tip when the damage comes later, two when it comes first', () => {
  everyOrder('B D4 P4', (before) =>
    before('B', 'D4')
      ? [[[4, 4, 0, 0]], false]
      : [
          [
            [4, 4, 0, 0],
            [null, 0, 0, null],
          ],
          true,
        ],
  );
  everyOrder('B D4 P4 L', (before) =>
    before('B', 'D4')
      ? [[[4, 4, 0, 0]], false]
      : [
          [
            [4, 4, 0, 0],
            [null, 0, 0, null],
          ],
          false,
        ],
  );
  everyOrder('B D4 P2 P2', (before) =>
    before('B', 'D4')
      ? [[[4, 4, 0, 0]], false]
      : [
          [
            [4, 4, 0, 0],
            [null, 0, 0, null],
          ],
          true,
        ],
  );
});

describe('a tip takes pieces until it lacks no more than the tolerance of a piece, 1 mm', () => {
  it.each<[string, Account[], boolean]>([
    [
      'D4 D6 P3 P6',
      [
        [4, 3, 0, 1],
        [6, 6, 0, 0],
      ],
      false,
    ],
    // Lacking 1.5 mm, the first tip takes the second's piece too: nothing tells whose it is.
    [
      'D4 D6 P2.5 P6',
      [
        [4, 8.5, 0, -4.5],
        [6, 0, 0, 6],
      ],
      true,
    ],
    [
      'D4 D6 P2.5 P1 P6',
      [
        [4, 3.5, 0, 0.5],
        [6, 6, 0, 0],
      ],
      false,
    ],
    [
      'D4 D6 L3 P6',
      [
        [4, 6, 0, -2],
        [6, 0, 3, 3],
      ],
      true,
    ],
    [
      'D4 D6 P4 L5',
      [
        [4, 4, 0, 0],
        [6, 0, 5, 1],
      ],
      false,
    ],
    [
      'D4 D6 P4 L4.5',
      [
        [4, 4, 0, 0],
        [6, 0, 4.5, 1.5],
      ],
      true,
    ],
    [
      'D4 D6 L3 L6',
      [
        [4, 0, 3, 1],
        [6, 0, 6, 0],
      ],
      false,
    ],
    // Two measured pieces of one tip may be 2 mm off, one and none 1 mm.
    ['D4 P1 P1', [[4, 2, 0, 2]], false],
    ['D4 P1 P0.5', [[4, 1.5, 0, 2.5]], true],
    ['D4 P2', [[4, 2, 0, 2]], true],
    ['D4 L2 P1', [[4, 1, 2, 1]], false],
    // What stays unmeasured makes up what is left after all that was measured, out or in.
    ['D6 L2 L', [[6, 0, 6, 0]], false],
    ['D6 P2 L1 L', [[6, 2, 4, 0]], false],
    ['D4 L1 P1', [[4, 1, 1, 2]], true],
    // What comes of another tool is no piece of this one.
    ['D4 Q4', [[4, 0, 0, 4]], true],
    [
      'D4 X4 Q4 P4',
      [
        [4, 4, 0, 0],
        [4, 4, 0, 0],
      ],
      false,
    ],
    [
      'D4 X4 P4 Q4',
      [
        [4, 4, 0, 0],
        [4, 4, 0, 0],
      ],
      false,
    ],
    [
      'D4 X4 P2 P2',
      [
        [4, 4, 0, 0],
        [4, 0, 0, 4],
      ],
      true,
    ],
  ])('%s', (said, expected, open) => {
    const log = told(said.split(' '));
    expect(accounts(log)).toEqual(expected);
    expect(isOpen(log)).toBe(open);
  });
});
