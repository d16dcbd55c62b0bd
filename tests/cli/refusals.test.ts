/** What the command refuses: status 2, one line for each fault with its path, and nothing on standard output. */
import { describe, expect, it } from 'vitest';
import { entryTypes } from '../../machines/entry.ts';
import { fields1 } from '../../machines/fields-1.ts';
import { content } from '../machines/build.ts';
import { run } from '../../src/commands.ts';
import { begun, caseOf, faults, fileWith, here, ofEntries, state, withEntry } from './files.ts';

const opened = begun().entries[0] as object;
/** The types of format 1. */
const types1 = new Set(Object.keys(fields1(content.ids)));
const commands = ['state', 'check', 'ready'] as const;

describe('a file that is no case', () => {
  it.each<[string, unknown, string]>([
    ['is empty', '', '1:1: broken JSON'],
    ['is cut off', '{"format": "counterturn-case",\n "entries": [', '2:14: broken JSON'],
    ['has a comma too many', '{"format": "x",\n}', '2:1: broken JSON'],
    ['has a comment', '{ // note\n "format": "x"}', '1:3: broken JSON'],
    ['holds a NaN', '{"format": NaN}', '1:12: broken JSON'],
    ['has something after its end', '{} {}', '1:4: broken JSON'],
    ['is not UTF-8', Buffer.from([0x7b, 0x22, 0xff, 0x22, 0x7d]), 'file: not UTF-8 text'],
    ['is a list', '[]', 'file: expected an object'],
    ['is null', 'null', 'file: expected an object'],
    ['is of an unknown format', caseOf([], { format: 'other-case' }), 'format: "other-case" is not "counterturn-case"'],
    ['has no format', {}, 'format: null is not "counterturn-case"'],
    [
      'is of a newer version',
      caseOf([], { formatVersion: 3 }),
      'formatVersion: version 3 is not known; this build reads version 1, 2',
    ],
    [
      'is of content that this build lacks',
      caseOf([], { contentVersion: '2031.4' }),
      'contentVersion: this build has no content "2031.4"',
    ],
    ['has an unknown field', caseOf([], { patient: 'x' }), 'patient: unknown field'],
    ['has no list of entries', caseOf([], { entries: {} }), 'entries: expected a list'],
    ['has a key twice', '{"format":"counterturn-case","format":"x"}', 'format: duplicate key'],
    [
      'has a key twice under two spellings',
      '{"format":"counterturn-case","\\u0066ormat":"x"}',
      'format: duplicate key',
    ],
    [
      'has a head without a seal',
      caseOf([opened], { head: { n: 1 } }),
      'head.seal: expected 64 lower-case hexadecimal digits',
    ],
  ])('%s', async (_, content, line) => expect(faults(await state(content))).toEqual([line]));

  it('has a key twice deep inside', async () => {
    const text = JSON.stringify(caseOf([opened])).replace('"side":"left"', '"side":"left","side":"right"');
    expect(faults(await state(text))).toEqual(['entries[0].side: duplicate key']);
  });

  it('is larger than 16 MiB, and one byte less is read', async () => {
    const text = JSON.stringify(caseOf([opened]));
    const padded = (size: number) => text + ' '.repeat(size - text.length);
    expect(faults(await state(padded(16 * 1024 * 1024 + 1)))).toEqual(['file: larger than 16 MiB (16777217 bytes)']);
    expect((await state(padded(16 * 1024 * 1024))).status).toBe(0);
  });

  it('is nested more than 64 levels, however deep', async () => {
    const nested = (depth: number) =>
      `{"format":"counterturn-case","formatVersion":1,"contentVersion":"2026.1","entries":${'['.repeat(depth)}${']'.repeat(depth)}}`;
    expect(faults(await state(nested(63)))).toEqual(['entries[0]: expected an object']);
    expect(faults(await state(nested(64)))).toEqual([
      expect.stringMatching(/^entries\[0\].*: nested more than 64 levels$/),
    ]);
    expect(faults(await state(nested(1_000_000)))).toEqual([expect.stringMatching(/: nested more than 64 levels$/)]);
    expect((await ofEntries([{ ...opened, label: '['.repeat(200) }])).status).toBe(0);
  });

  it('is not there, or is a folder', async () => {
    expect(faults(await run(['state', '/nowhere/none.json']))).toEqual(['file: cannot be read: ENOENT']);
    expect(faults(await run(['state', '/']))).toEqual(['file: cannot be read: EISDIR']);
  });
});

describe('an entry', () => {
  it.each<[string, object, string]>([
    ['of an unknown type', { type: 'screw-lost' }, '.type: unknown entry type "screw-lost"'],
    ['without a type', {}, '.type: missing'],
    ['with an unknown field', { type: 'plate-off', why: 'x' }, '.why: unknown field'],
    ['with a field of another type', { type: 'plate-off', screw: '1' }, '.screw: unknown field'],
    ['without a field', { type: 'move-ended', screw: '1' }, '.outcome: missing'],
    ['with a list for its checks', { type: 'reassessed', screw: '1', checks: [] }, '.checks: expected an object'],
    ['with a number for its checks', { type: 'reassessed', screw: '1', checks: 4 }, '.checks: expected an object'],
    ['without its checks', { type: 'reassessed', screw: '1' }, '.checks: missing'],
    [
      'with a list for a bore',
      { type: 'move-ended', screw: '1', outcome: 'out', bores: [[]] },
      '.bores[0]: expected an object',
    ],
    ['with an unknown outcome', { type: 'move-ended', screw: '1', outcome: 'gone' }, '.outcome: unknown value "gone"'],
    ['with an unknown move', { type: 'move-started', screw: '1', move: 'hit-it' }, '.move: unknown value "hit-it"'],
    [
      'with an unknown tool',
      { type: 'tool-in-room', tool: 'spanner', present: true },
      '.tool: unknown value "spanner"',
    ],
    [
      'with an unknown answer',
      { type: 'hold-answered', hold: 'time', answer: 'maybe' },
      '.answer: unknown value "maybe"',
    ],
    ['with an unknown hold', { type: 'hold-answered', hold: 'heat', answer: 'go-on' }, '.hold: unknown value "heat"'],
    [
      'with an unknown consent point',
      { type: 'consent-point', point: 'all', confirmed: true },
      '.point: unknown value "all"',
    ],
    ['with an unknown role', { type: 'plate-off', loggedBy: 'visitor' }, '.loggedBy: unknown value "visitor"'],
    [
      'with an unknown note field',
      { type: 'note-field', field: 'weather', text: 'x' },
      '.field: unknown value "weather"',
    ],
    [
      'that leaves in as a move',
      { type: 'move-started', screw: '1', move: 'leave-in' },
      '.move: leaving in is entered as left-in, not as a move',
    ],
    [
      'with a text for a flag',
      { type: 'tool-in-room', tool: 'pick', present: 'yes' },
      '.present: expected true or false',
    ],
    ['with a negative length', { type: 'piece-recovered', screw: '1', length: -1 }, '.length: must not be negative'],
    [
      'with a negative recovered length',
      { type: 'move-ended', screw: '1', outcome: 'out', recovered: -0.5 },
      '.recovered: must not be negative',
    ],
    [
      'with a diameter of nought',
      { type: 'bone-measured', outer: 0, cortex: 1, source: 'measured' },
      '.outer: must be greater than 0',
    ],
    [
      'with a cortex of half the bone',
      { type: 'bone-measured', outer: 20, cortex: 10, source: 'measured' },
      '.cortex: must be less than half the outer diameter',
    ],
    ['with a limit above one', { type: 'limits-set', boneStop: 1.01 }, '.boneStop: must lie between 0 and 1'],
    [
      'with a limit below nought',
      { type: 'limits-set', boneConsider: -0.01 },
      '.boneConsider: must lie between 0 and 1',
    ],
    [
      'with limits that cross',
      { type: 'limits-set', boneConsider: 0.4, boneStop: 0.35 },
      '.boneConsider: must not be greater than boneStop',
    ],
    [
      'with a limit that crosses the one in force',
      { type: 'limits-set', boneConsider: 0.31 },
      '.boneConsider: consider limit 0.31 is greater than stop limit 0.3 in force',
    ],
    [
      'with a bore as wide as the bone',
      { type: 'move-started', screw: '1', move: 'turn-out', bores: [{ wall: 'near', diameter: 24 }] },
      '.bores[0].diameter: a bore of 24 mm is as wide as the bone of 24 mm',
    ],
    [
      'with a second bore as wide as the bone',
      {
        type: 'move-ended',
        screw: '1',
        outcome: 'out',
        bores: [
          { wall: 'far', diameter: 3 },
          { wall: 'far', diameter: 30 },
        ],
      },
      '.bores[1].diameter: a bore of 30 mm is as wide as the bone of 24 mm',
    ],
    [
      'with a bore in no wall',
      { type: 'move-ended', screw: '1', outcome: 'out', bores: [{ wall: 'side', diameter: 3 }] },
      '.bores[0].wall: unknown value "side"',
    ],
    [
      'with a broken shank of which nobody says whether it can be reached',
      { type: 'move-ended', screw: '1', outcome: 'shank-broke' },
      '.reachable: required after shank-broke',
    ],
    [
      'that says so of another outcome',
      { type: 'move-ended', screw: '1', outcome: 'out', reachable: true },
      '.reachable: belongs to the outcome shank-broke alone',
    ],
    [
      'left in of neither screw nor tool',
      { type: 'left-in', length: 3, where: 'x', reason: 'y' },
      ': needs either a screw or a tool',
    ],
    [
      'recovered of both screw and tool',
      { type: 'piece-recovered', screw: '1', tool: 'pick', length: 3 },
      ': needs either a screw or a tool',
    ],
    [
      'with a zone that is none',
      {
        type: 'case-opened',
        label: 'x',
        zone: 'Mars/Base',
        side: 'left',
        bone: 'tibia',
        construct: 'plate',
        planned: '',
      },
      '.zone: not an IANA time zone',
    ],
    [
      'with a seal that is none',
      { type: 'plate-off', seal: 'XYZ' },
      '.seal: expected 64 lower-case hexadecimal digits',
    ],
    ['with half a character', { type: 'remark', text: 'x\ud83d' }, '.text: not well-formed Unicode'],
    [
      'with three cortices',
      {
        type: 'screw-listed',
        screw: '2',
        diameter: 3,
        thread: 'cortical',
        locking: false,
        drive: 'slotted',
        material: 'steel',
        length: 9,
        cortices: 3,
      },
      '.cortices: expected 1 or 2',
    ],
    ['with a shot and a half', { type: 'images', shots: 1.5 }, '.shots: expected a whole number'],
  ])('%s', async (_, entry, line) => {
    const [fault, ...others] = faults(await withEntry(entry));
    expect(fault?.startsWith(`${here}${line}`) && fault).toBe(fault);
    expect(others).toEqual([]);
  });

  it.each([1, 'x', null, [], true])('that is %j', async (entry) => {
    expect(faults(await ofEntries([opened, entry]))).toEqual(['entries[1]: expected an object']);
  });

  it.each(entryTypes)('%s with a field too many', async (type) => {
    const known = types1.has(type);
    const refused = faults(await withEntry({ type, surplus: 1 }, known ? {} : { formatVersion: 2 }));
    expect(refused).toContain(`${here}.surplus: unknown field`);
    if (!known) expect(faults(await withEntry({ type }))).toEqual([`${here}.type: unknown entry type "${type}"`]);
  });

  it('with several faults has a line for each [Z9]', async () => {
    const entry = { type: 'bone-measured', outer: -3, cortex: 'thin', source: 'guessed' };
    expect(faults(await withEntry(entry)).map((line) => line.split(':')[0])).toEqual([
      `${here}.outer`,
      `${here}.cortex`,
      `${here}.source`,
    ]);
  });

  it('whose text breaks the line is still one line', async () => {
    for (const entry of [
      { type: 'a\nb' },
      { type: 'plate-off', 'a\nb': 1 },
      { type: 'move-ended', screw: '1', outcome: 'a\r\nb\u001b[2J\u2028' },
    ]) {
      const lines = faults(await withEntry(entry));
      expect(lines).toHaveLength(1);
      expect(lines[0]).not.toMatch(/[\u0000-\u001f\u2028]/);
    }
  });

  it('with a number that is too large to be one', async () => {
    const text = JSON.stringify(caseOf([{ ...opened, placedMonthsAgo: 7 }])).replace(
      '"placedMonthsAgo":7',
      '"placedMonthsAgo":1e999',
    );
    expect(faults(await state(text))).toEqual(['entries[0].placedMonthsAgo: expected a finite number']);
  });

  it('with a key that every object inherits', async () => {
    for (const key of ['__proto__', 'constructor', 'toString']) {
      const text = JSON.stringify(caseOf([opened])).replace('"side":"left"', `"side":"left","${key}":{"x":1}`);
      expect(faults(await state(text))).toEqual([`entries[0].${key}: unknown field`]);
    }
  });
});

describe('numbers and times between entries', () => {
  const at = (n: number, time: string, logged = time) => ({ n, at: time, logged, type: 'plate-off' });
  const first = { ...opened, at: '2026-03-04T08:00:00Z', logged: '2026-03-04T08:00:00Z' };

  it.each<[string, object[], string[]]>([
    ['a gap', [first, at(3, '2026-03-04T09:00:00Z')], ['entries[1].n: expected 2, the numbers run without gaps']],
    [
      'a number twice',
      [first, at(1, '2026-03-04T09:00:00Z')],
      ['entries[1].n: expected 2, the numbers run without gaps'],
    ],
    ['a first number that is not 1', [{ ...first, n: 2 }], ['entries[0].n: expected 1, the numbers run without gaps']],
    ['a number of nought', [first, at(0, '2026-03-04T09:00:00Z')], ['entries[1].n: must be at least 1']],
    [
      'an entry before it happened',
      [first, at(2, '2026-03-04T09:00:01Z', '2026-03-04T09:00:00Z')],
      ['entries[1].at: later than it was logged'],
    ],
    [
      'logged earlier than the one before',
      [first, at(2, '2026-03-04T07:59:59Z')],
      ['entries[1].logged: earlier than the entry before'],
    ],
    [
      'a time without an offset',
      [first, at(2, '2026-03-04T09:00:00')],
      ['entries[1].at: not an RFC 3339 time with an offset', 'entries[1].logged: not an RFC 3339 time with an offset'],
    ],
    [
      'a day that is none',
      [{ ...first, at: '2026-02-30T08:00:00Z' }],
      ['entries[0].at: not an RFC 3339 time with an offset'],
    ],
    ['a time that is a number', [{ ...first, logged: 5 }], ['entries[0].logged: expected a time']],
  ])('%s', async (_, entries, lines) => expect(faults(await ofEntries(entries))).toEqual(lines));

  it('late entries and two offsets are none of these [Z16]', async () => {
    expect((await ofEntries([first, at(2, '2026-03-04T07:00:00Z', '2026-03-04T09:00:00+01:00')])).status).toBe(0);
  });
});

describe('bores and limits in force', () => {
  const bore = (diameter: number) => ({ bores: [{ wall: 'near' as const, diameter }] });

  it('a bore is measured against the bone at its level, at that entry', async () => {
    const log = begun().bone(12, 3, { screw: '1' }).begins('1', 'burr-out', bore(12));
    expect(faults(await ofEntries(log.entries))).toEqual([
      expect.stringContaining('.bores[0].diameter: a bore of 12 mm is as wide as the bone of 12 mm'),
    ]);
    const later = begun().begins('1', 'burr-out', bore(12)).bone(12, 3, { screw: '1' });
    expect((await ofEntries(later.entries)).status).toBe(0);
    const other = begun().screw('2').bone(12, 3, { screw: '2' }).begins('1', 'burr-out', bore(12));
    expect((await ofEntries(other.entries)).status).toBe(0);
  });

  it('no bone known: any bore is taken', async () => {
    const [first, ...rest] = begun().begins('1', 'burr-out', bore(40)).entries;
    expect((await ofEntries([{ ...first, bone: 'carpus' }, ...rest])).status).toBe(0);
  });

  it('a measure that was struck, or that was out of order, is not in force', async () => {
    const struck = begun().bone(12, 3);
    struck.strikes(struck.n).begins('1', 'burr-out', bore(13));
    expect((await ofEntries(struck.entries)).status).toBe(0);
    const early = begun().bone(12, 3, { screw: '2' }).screw('2').begins('2', 'burr-out', bore(13));
    expect((await ofEntries(early.entries)).status).toBe(0);
  });

  it('a later strike makes nothing unreadable that was once taken', async () => {
    const log = begun().bone(30, 6);
    const measure = log.n;
    log.begins('1', 'burr-out', bore(26)).strikes(measure);
    expect((await ofEntries(log.entries)).status).toBe(0);
    const limits = begun().write({ type: 'limits-set', boneStop: 0.6 });
    const set = limits.n;
    limits.write({ type: 'limits-set', boneConsider: 0.5 }).strikes(set);
    expect((await ofEntries(limits.entries)).status).toBe(0);
  });
});

describe('the command itself', () => {
  const file = fileWith(caseOf(begun().entries));

  it('without or with an unknown name', async () => {
    expect(faults(await run([]))).toEqual([expect.stringMatching(/^arguments: names no command, expected one of /)]);
    for (const name of ['stat', 'constructor', '__proto__', ''])
      expect(faults(await run([name]))).toEqual([expect.stringContaining(`unknown command "${name}"`)]);
  });

  it.each(commands)('%s without a file, with two, or with an unknown option', async (name) => {
    expect(faults(await run([name]))).toEqual(['arguments: names no case file']);
    expect(faults(await run([name, file, file]))).toEqual([`arguments: unexpected "${file}"`]);
    expect(faults(await run([name, file, '--loud']))).toHaveLength(1);
  });

  it.each(commands)('%s refuses what cannot be read', async (name) => {
    expect(faults(await run([name, fileWith('{')]))).toEqual(['1:2: broken JSON']);
  });

  it('state at a time that is none', async () => {
    expect(faults(await run(['state', file, '--at', 'noon']))).toEqual(['--at: not an RFC 3339 time with an offset']);
    expect(faults(await run(['state', file, '--at']))).toHaveLength(1);
  });
});
