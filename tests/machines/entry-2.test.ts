/** What format 2 has more than format 1: new types, new fields, and the rules that tie two fields together. */
import { describe, expect, it } from 'vitest';
import { constructs, roles, sides } from '../../content/ids.ts';
import { checkEntry, entryTypes } from '../../machines/entry.ts';
import { fields1 } from '../../machines/fields-1.ts';
import { entryShapes } from '../../machines/formats.ts';
import { content } from './build.ts';
import { above, finite, flag, from1, length, list, oneOf, screw, text, type Kind } from './entry.kinds.ts';

const { tools } = content.ids;
const common = { n: 7, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:30Z' };

const faultsIn = (format: number, entry: object): string[] => {
  const checked = checkEntry({ ...common, ...entry }, 'it', entryShapes(content.ids, format));
  return 'faults' in checked ? checked.faults.map(({ path, message }) => `${path}: ${message}`) : [];
};
const faults = (entry: object) => faultsIn(2, entry);

const yes: Kind = { good: [true], bad: [[false, 'expected true']] };
const orNull = ({ good, bad }: Kind): Kind => ({ good: [...good, null], bad });
const part = screw;
const origin = oneOf(['measured', 'image', 'difference']);
const head = oneOf(['piece', 'in-plate', 'shavings', 'partly', 'not-seen']);
const recess = oneOf(['damaged', 'sound', 'not-seen']);
const turned = oneOf(['screw', 'driver', 'not-known']);
const bores = list([{ wall: 'near', diameter: 4, turn: -20, length: 11 }]);
const digits: Kind = {
  good: ['0123456789abcdef'.repeat(4)],
  bad: [
    ['0123', 'expected 64 lower-case hexadecimal digits'],
    [5, 'expected text'],
  ],
};
const partKinds = [
  ...['plate', 'nail', 'end-cap', 'washer', 'barrel', 'coupling-screw', 'nut', 'wire', 'cable', 'pin', 'staple'],
  ...['foil', 'guide-wire', 'other'],
];
const partMoves = ['lift', 'lever-plate', 'cap-off', 'seat-extractor', 'hammer-nail', 'hook-from-below'];
const events = [
  ...['bleeding', 'pause', 'incision-extended', 'bone-broke', 'not-healed', 'infection-found', 'samples-sent'],
  ...['glove-changed', 'person-arrived', 'piece-dropped', 'image-review', 'other'],
];
const answers = [
  ...['go-on', 'stop', 'called', 'not-available', 'confirmed', 'let-down'],
  ...['scrubbed', 'found', 'not-found', 'later', 'heeded', 'yes', 'no'],
];
const limb = oneOf(['upper', 'lower', 'foot', 'trunk', 'not-known']);
const patient = oneOf(['adult', 'child', 'not-known']);

type Fields = Record<string, Kind>;
/** Of each type that changed: an entry of it as format 1 would write it, and what may stand in it besides. */
const changed: [type: string, base: object, more: Fields][] = [
  [
    'case-opened',
    { label: 'Room 4', zone: 'UTC', side: 'left', bone: 'tibia', construct: 'plate', planned: '' },
    {
      ...{ limb, patient, fragile: orNull(flag), rules: from1, contentVersion: text },
      purpose: oneOf(['removal', 'put-in']),
    },
  ],
  [
    'bone-measured',
    { outer: 27, cortex: 5, source: 'measured' },
    { plusMinus: length, place: oneOf(['shaft', 'near-joint', 'neck', 'not-known']) },
  ],
  [
    'screw-listed',
    {
      ...{ screw: '1', diameter: 4.5, thread: 'cortical', locking: false, drive: 'unknown', material: 'steel' },
      ...{ length: 36, cortices: 2 },
    },
    { form: oneOf(['solid', 'cannulated', 'headless']), washer: flag, underPlate: flag },
  ],
  [
    'consent-point',
    { point: content.ids.consent[0], confirmed: true },
    { toldTo: oneOf(['before', 'patient-awake', 'relative']) },
  ],
  ['move-ended', { screw: '1', outcome: 'out' }, { start: from1, whole: flag, head, depth: length, recess, turned }],
  ['hold-answered', { hold: 'count', answer: 'go-on' }, { tip: from1, tool: oneOf(tools), imageTaken: flag }],
  ['found', { screw: '1' }, { shankStands: finite, headCovered: flag }],
  ['plate-off', {}, { part }],
  ['left-in', { screw: '1', length: null, where: 'canal', reason: 'deep' }, { tip: from1 }],
  ['clock-compared', { theatreClock: '2026-03-04T09:00:00Z' }, { source: oneOf(['wall', 'station']) }],
  ['signed', { who: 'A', role: 'surgeon', meaning: 'read' }, { rules: from1, textHash: digits }],
  [
    'count-answered',
    { by: ['scrub'] },
    { image: oneOf(['clear', 'metal-seen', 'not-sure', 'not-taken']), decidedBy: text },
  ],
  ['remark', { text: 'x' }, { typed: yes }],
];

/** Values that a field of format 1 takes besides, each in an entry that is right without it. */
const widened: [type: string, key: string, values: readonly unknown[], also?: object][] = [
  ['bone-measured', 'source', ['measured', 'assumed', 'film']],
  ['screw-listed', 'diameter', [4.5, null]],
  ['screw-listed', 'locking', [true, false, null]],
  ['screw-listed', 'cortices', [1, 2, null]],
  ['screw-listed', 'thread', ['cortical', 'cancellous', 'partly', null]],
  ['screw-listed', 'material', ['steel', 'titanium', 'cobalt-chromium', 'unknown']],
  ['hold-answered', 'answer', answers],
];

const baseOf = (type: string) => ({ type, ...changed.find(([name]) => name === type)?.[1] });

describe.each(changed)('%s', (type, base, more) => {
  const whole = { type, ...base };

  it('may hold what format 1 does not know', () => {
    for (const format of [1, 2]) expect(faultsIn(format, whole)).toEqual([]);
    for (const [key, { good, bad }] of Object.entries(more)) {
      for (const value of good) {
        expect(faults({ ...whole, [key]: value }), `${key} ${String(value)}`).toEqual([]);
        expect(faultsIn(1, { ...whole, [key]: value })).toEqual([`it.${key}: unknown field`]);
      }
      for (const [value, said] of bad) expect(faults({ ...whole, [key]: value })).toContain(`it.${key}: ${said}`);
    }
  });
});

describe.each(widened)('%s.%s', (type, key, values) => {
  it('takes more than in format 1', () => {
    for (const value of values) expect(faults({ ...baseOf(type), [key]: value }), String(value)).toEqual([]);
    const known = values.filter((value) => faultsIn(1, { ...baseOf(type), [key]: value }).length === 0);
    expect(known.length).toBeGreaterThan(0);
    expect(known.length).toBeLessThan(values.length);
  });

  it('takes nothing else', () => expect(faults({ ...baseOf(type), [key]: 'nothing of these' })).toHaveLength(1));
});

/** Every new type: what it needs, and what it may hold besides. */
const added: [type: string, needed: Fields, more?: Fields][] = [
  [
    'format-raised',
    {
      to: {
        good: [2],
        bad: [
          [1, 'expected 2'],
          [3, 'expected 2'],
        ],
      },
      rules: from1,
    },
  ],
  [
    'case-corrected',
    { reason: text },
    {
      ...{ side: oneOf(sides), bone: text, construct: oneOf(constructs), label: text, limb, patient },
      zone: { good: ['Europe/Oslo', 'UTC'], bad: [['Mars/Base', 'not an IANA time zone']] },
      placedBy: oneOf(['same-team', 'other-team', 'unknown']),
      ...{ placedMonthsAgo: length, fragile: orNull(flag) },
    },
  ],
  ['resumed', { device: text, gap: oneOf(['known', 'not-known']) }],
  ['at-tablet', { role: oneOf(roles) }, { who: text }],
  ['part-listed', { part, kind: oneOf(partKinds) }, { what: text, length, pieces: from1 }],
  [
    'part-ended',
    { part, end: oneOf(['out', 'left-in', 'not-found']) },
    { piece: from1, complete: flag, where: text, reason: text, imageTaken: flag },
  ],
  ['put-in', { part, kind: text, where: text }, { length }],
  [
    'part-move',
    { part, move: oneOf(partMoves) },
    { tool: oneOf(tools), outcome: oneOf(['moving', 'out', 'no-change', 'tool-broke', 'bone-broke']) },
  ],
  ['destroyed', { screw, what: oneOf(['head', 'shank', 'all']), how: oneOf(['shavings', 'burr']) }],
  ['head-seen', { screw, head }, { part, piece: from1 }],
  ['reassigned', { entries: list([3, 4]), screw }],
  [
    'stopped',
    {},
    {
      reason: oneOf(['anaesthesia', 'patient', 'bleeding', 'bone', 'infection', 'time', 'planned', 'other']),
      text,
    },
  ],
  ['deferred', { screw }],
  ['event', { kind: oneOf(events) }, { screw, where: text, text }],
  ['move-answered', { of: from1 }, { recess, head, turned, bores, depth: length }],
  [
    'length-answered',
    { screw, answer: { good: ['listed-wrong', 'lost'], bad: oneOf(['broke', 'listed-wrong', 'lost']).bad } },
  ],
  [
    'checked',
    { what: oneOf(['loosen-first', 'first-turn', 'extractor-on', 'eyes-and-swabs']) },
    { screw, size: above },
  ],
  ['aftercare', { text, state: oneOf(['accepted', 'changed', 'dropped']) }],
  ['hole-seen', { where: oneOf(['off-plate', 'end-of-metal']), diameter: above }, { screw }],
];
/** What has a fault of its own where it is missing, because another field could stand there. */
const either: Record<string, readonly string[]> = {
  'put-in': ['part'],
  reassigned: ['entries', 'screw'],
  aftercare: ['text'],
};

it('the table below names every new type', () => {
  const old = Object.keys(fields1(content.ids));
  expect(added.map(([type]) => type).sort()).toEqual(entryTypes.filter((type) => !old.includes(type)).sort());
});

describe.each(added)('%s', (type, needed, more = {}) => {
  const filled = (fields: Fields) =>
    Object.fromEntries(Object.entries(fields).map(([key, { good }]) => [key, good[0]] as const));
  const least = { type, ...filled(needed) };

  it('is read with what it needs, comes out as it went in, and no format before knows it', () => {
    const entry = { ...common, ...least };
    expect(checkEntry(entry, 'it', entryShapes(content.ids, 2))).toEqual({ entry });
    // A move of a part tells how it ended, but for a lift, which stands first.
    expect(faultsIn(1, least)).toEqual([`it.type: unknown entry type "${type}"`]);
  });

  it('is read with each value that a field may have, and refused with a wrong one, in words', () => {
    const ends = type === 'part-move' ? { outcome: 'out' } : {};
    for (const [key, { good, bad }] of Object.entries({ ...needed, ...more })) {
      // An empty list of entries is of no entry at all.
      const values = type === 'reassigned' && key === 'entries' ? good.slice(0, 1) : good;
      for (const value of values)
        expect(faults({ ...least, ...ends, [key]: value }), `${key} ${String(value)}`).toEqual([]);
      for (const [value, said] of bad)
        expect(faults({ ...least, ...ends, [key]: value })).toContain(`it.${key}: ${said}`);
    }
  });

  it('needs the fields that it needs and has no other', () => {
    for (const key of Object.keys(needed).filter((name) => !either[type]?.includes(name))) {
      const { [key]: _, ...rest } = least as Record<string, unknown>;
      expect(faults(rest)).toEqual([`it.${key}: missing`]);
    }
    expect(faults({ ...least, surplus: 1 })).toEqual(['it.surplus: unknown field']);
  });
});

describe('where a length comes from', () => {
  const asked = 'it.lengthHow: required with a length: was it measured, read from an image, or left by difference?';
  const alone = 'it.lengthHow: belongs to a length';
  const of: [type: string, base: object, key: string][] = [
    ['move-ended', { screw: '1', outcome: 'out' }, 'recovered'],
    ['piece-recovered', { screw: '1', whole: true }, 'length'],
    ['left-in', { screw: '1', length: null, where: 'canal', reason: 'deep' }, 'length'],
    ['destroyed', { screw: '1', what: 'head', how: 'burr' }, 'length'],
    ['tool-damaged', { tool: 'gouge', how: 'chipped', tipMissing: true }, 'length'],
    ['hold-answered', { hold: 'count', answer: 'found' }, 'length'],
  ];

  it.each(of)('is said with each of %s, and with nothing else', (type, base, key) => {
    const entry = { type, ...base };
    expect(faults(entry)).toEqual([]);
    expect(faults({ ...entry, [key]: 12 })).toEqual([asked]);
    expect(faults({ ...entry, lengthHow: 'measured' })).toEqual([alone]);
    expect(faults({ ...entry, lengthHow: 'image' })).toEqual([alone]);
    for (const value of origin.good) expect(faults({ ...entry, [key]: 12, lengthHow: value })).toEqual([]);
    for (const [value, said] of origin.bad)
      expect(faults({ ...entry, [key]: 12, lengthHow: value })).toEqual([`it.lengthHow: ${said}`]);
    for (const [value, said] of length.bad)
      expect(faults({ ...entry, [key]: value, lengthHow: 'measured' })).toEqual([`it.${key}: ${said}`]);
  });

  it('was not asked in format 1', () => {
    const old = of.filter(([type]) => ['move-ended', 'piece-recovered', 'left-in', 'tool-damaged'].includes(type));
    expect(old).toHaveLength(4);
    for (const [type, { whole: _, ...base }, key] of old as [string, Record<string, unknown>, string][]) {
      expect(faultsIn(1, { type, ...base, [key]: 12 })).toEqual([]);
      expect(faultsIn(1, { type, ...base, [key]: 12, lengthHow: 'measured' })).toEqual(['it.lengthHow: unknown field']);
    }
  });

  it('may be the difference where what stays has no figure of its own', () =>
    expect(faults({ ...baseOf('left-in'), lengthHow: 'difference' })).toEqual([]));
});

describe('two fields of one entry', () => {
  const start = (more: object) => faults({ type: 'move-started', screw: '1', ...more });
  it('something that no release lists says what it is', () => {
    expect(start({ move: 'other', what: 'a pair of pliers' })).toEqual([]);
    expect(start({ move: 'other' })).toEqual(['it.what: belongs to the move other, which needs it']);
    expect(start({ move: 'turn-out', what: 'pliers' })).toEqual(['it.what: belongs to the move other, which needs it']);
    expect(start({ move: 'other', what: '' })).toEqual(['it.what: must not be empty']);
    expect(start({ move: 'leave-in' })).toEqual(['it.move: leaving in is entered as left-in, not as a move']);
    expect(faultsIn(1, { type: 'move-started', screw: '1', move: 'other' })).toHaveLength(1);
  });

  const ended = (outcome: string, more: object = {}) => faults({ type: 'move-ended', screw: '1', outcome, ...more });
  it('what was seen to be whole came out', () => {
    expect(ended('out', { whole: true })).toEqual([]);
    expect(ended('moving', { whole: true })).toEqual(['it.whole: belongs to the outcome out alone']);
  });

  it('the rules of format 1 stand', () => {
    expect(ended('shank-broke')).toEqual([
      'it.reachable: required after shank-broke: can a stump still be reached at the near cortex?',
    ]);
    expect(ended('out', { reachable: true })).toEqual(['it.reachable: belongs to the outcome shank-broke alone']);
    expect(ended('moving', { toolJammed: true })).toEqual(['it.toolJammed: belongs to the outcome out alone']);
    expect(faults({ type: 'bone-measured', outer: 20, cortex: 10, source: 'film' })).toEqual([
      'it.cortex: must be less than half the outer diameter',
    ]);
    expect(faults({ type: 'piece-recovered', whole: true })).toEqual(['it: needs either a screw or a tool']);
    expect(faults({ type: 'count-answered', by: [], image: 'clear' })).toEqual(['it.by: names nobody']);
    expect(faults({ type: 'note-field', field: 'closure' })).toEqual(['it: needs either text or notApplicable']);
    expect(faults({ type: 'limits-set', boneConsider: 0.4, boneStop: 0.3 })).toEqual([
      'it.boneConsider: must not be greater than boneStop',
    ]);
  });

  it('a piece has a length, or is all of it', () => {
    const piece = (more: object) => faults({ type: 'piece-recovered', screw: '1', ...more });
    const missing = ['it.length: needs a length, or whole or complete'];
    expect(piece({})).toEqual(missing);
    expect(piece({ complete: false })).toEqual(missing);
    expect(piece({ length: 20, lengthHow: 'measured' })).toEqual([]);
    expect(piece({ length: 20, lengthHow: 'image', complete: false })).toEqual([]);
    expect(piece({ complete: true })).toEqual([]);
    expect(piece({ whole: true })).toEqual([]);
    expect(piece({ whole: false })).toEqual(['it.whole: expected true']);
    expect(piece({ complete: true, length: 20, lengthHow: 'measured', tip: 4 })).toEqual([]);
    expect(piece({ complete: 'all', whole: true })).toEqual(['it.complete: expected true or false']);
    expect(piece({ complete: true, tip: 0 })).toEqual(['it.tip: must be at least 1']);
  });

  it('a hollow reamer is thinner inside than outside', () => {
    const reamer = { type: 'tool-in-room', tool: 'hollow-reamer', present: true };
    for (const inner of [7, 7.5]) {
      expect(faults({ ...reamer, inner, outer: 7 })).toEqual(['it.inner: is not less than the outer diameter']);
      expect(faultsIn(1, { ...reamer, inner, outer: 7 })).toEqual([]);
    }
    expect(faults({ ...reamer, inner: 6.9, outer: 7 })).toEqual([]);
    expect(faults({ ...reamer, inner: 8 })).toEqual([]);
    expect(faults({ ...reamer, outer: 8 })).toEqual([]);
  });

  it('what was put in is a part or a screw', () => {
    const put = (more: object) => faults({ type: 'put-in', kind: 'plate', where: 'tibia', ...more });
    for (const none of [{}, { part: 'p', screw: '9' }])
      expect(put(none)).toEqual(['it: needs either a part or a screw']);
    expect(put({ screw: '9' })).toEqual([]);
  });

  it('entries were of another screw, or two screws were confused from an entry on', () => {
    const said = (more: object) => faults({ type: 'reassigned', ...more });
    const neither = ['it: needs either entries and a screw, or swap and from'];
    expect(said({ swap: ['1', '2'], from: 4 })).toEqual([]);
    for (const none of [{}, { entries: [3] }, { screw: '2' }, { swap: ['1', '2'] }, { from: 4 }])
      expect(said(none)).toEqual(neither);
    expect(said({ entries: [3], screw: '2', from: 4 })).toEqual(neither);
    expect(said({ entries: [3], screw: '2', swap: ['1', '2'], from: 4 })).toEqual(neither);
    // Half of the one beside half of the other says neither.
    for (const entries of [{ entries: [3] }, { screw: '2' }])
      for (const swap of [{ swap: ['1', '2'] }, { from: 4 }]) expect(said({ ...entries, ...swap })).toEqual(neither);
    expect(said({ entries: [], screw: '2' })).toEqual(['it.entries: holds nothing']);
    expect(said({ entries: [3, 0], screw: '2' })).toEqual(['it.entries[1]: must be at least 1']);
    expect(said({ swap: ['1', '1'], from: 4 })).toEqual(['it.swap: names one screw twice']);
    for (const swap of [[], ['1'], ['1', '2', '3'], 'both']) expect(said({ swap, from: 4 }).length).toBeGreaterThan(0);
  });

  it('what broke says whether it can be reached, and nothing else does', () => {
    const said = (answer: string, more: object = {}) =>
      faults({ type: 'length-answered', screw: '1', answer, ...more });
    const text = 'belongs to the answer broke, which needs it: can a stump still be reached at the near cortex?';
    expect(said('broke')).toEqual([`it.reachable: ${text}`]);
    for (const reachable of [true, false]) {
      expect(said('broke', { reachable })).toEqual([]);
      for (const answer of ['listed-wrong', 'lost'])
        expect(said(answer, { reachable })).toEqual([`it.reachable: ${text}`]);
    }
  });

  it('a move of a part ended somehow, but for a lift', () => {
    for (const move of partMoves)
      expect(faults({ type: 'part-move', part: 'plate', move })).toEqual(
        move === 'lift' ? [] : ['it.outcome: missing'],
      );
  });

  it('what was advised is a line of content or a text', () => {
    const said = (more: object) => faults({ type: 'aftercare', state: 'accepted', ...more });
    for (const none of [{}, { line: 'no-load', text: 'x' }])
      expect(said(none)).toEqual(['it: needs either a line or a text']);
    expect(said({ line: 'no-load' })).toEqual([]);
    expect(said({ line: '' })).toEqual(['it.line: must not be empty']);
  });

  it('a line of content that was changed is named, and told as it reads now', () => {
    const said = (more: object) => faults({ type: 'aftercare', ...more });
    const both = { line: 'no-load', text: 'no load for six weeks' };
    const wrong = ['it: needs either a line or a text'];
    expect(said({ state: 'changed', ...both })).toEqual([]);
    expect(said({ state: 'changed', text: both.text })).toEqual([]);
    expect(said({ state: 'changed', line: both.line })).toEqual([]);
    expect(said({ state: 'changed' })).toEqual(wrong);
    for (const state of ['accepted', 'dropped']) expect(said({ state, ...both })).toEqual(wrong);
  });
});

describe('checks', () => {
  it('of a look have keys by the tool', () => {
    const look = (checks: object, format = 2) => faultsIn(format, { type: 'reassessed', screw: '1', checks });
    const driver = ['recessCleared', 'fullySeated', 'inLine', 'freshDriver'];
    const others = ['jawsSquare', 'edgeFree', 'inAxis', 'deepEnough', 'shankBare'];
    for (const key of [...driver, ...others]) {
      for (const value of [true, false]) expect(look({ [key]: value })).toEqual([]);
      expect(look({ [key]: 'yes' })).toEqual([`it.checks.${key}: expected true or false`]);
    }
    for (const key of others) expect(look({ [key]: true }, 1)).toEqual([`it.checks.${key}: unknown field`]);
    expect(look({ clean: true })).toEqual(['it.checks.clean: unknown field']);
  });

  it('of an answer are yes, no or not known, by ids of content', () => {
    const answer = (checks: unknown) => faults({ ...baseOf('hold-answered'), checks });
    for (const value of ['yes', 'no', 'not-known']) expect(answer({ 'wires-out': value })).toEqual([]);
    expect(answer({})).toEqual([]);
    expect(answer({ 'wires-out': true })).toHaveLength(1);
    expect(answer('yes')).toEqual(['it.checks: expected an object']);
  });
});
