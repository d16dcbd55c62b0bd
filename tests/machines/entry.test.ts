/** Each type of entry of format 1 on its own: with all its fields it is read as it stands, with a wrong one its place is named. */
import { describe, expect, it } from 'vitest';
import { constructs, roles, sides, toldPoints, workingStages } from '../../content/ids.ts';
import { checkEntry, show } from '../../machines/entry.ts';
import { answers1, fields1, materials1, threads1 } from '../../machines/fields-1.ts';
import { entryShapes } from '../../machines/formats.ts';
import { content } from './build.ts';
import {
  above,
  anyText,
  count,
  finite,
  flag,
  from1,
  length,
  list,
  oneOf,
  screw,
  share,
  text,
  time,
  type Kind,
} from './entry.kinds.ts';

type EntryType = keyof ReturnType<typeof fields1>;
const shapes = entryShapes(content.ids, 1);
const { moves, tools, outcomes, holds, consent, noteFields, drives } = content.ids;
const common = { n: 7, at: '2026-03-04T09:00:00Z', logged: '2026-03-04T09:00:30Z' };
const seal = '0123456789abcdef'.repeat(4);

const check = (entry: unknown) => checkEntry(entry, 'it', shapes);
const faults = (entry: unknown): string[] => {
  const checked = check(entry);
  return 'faults' in checked ? checked.faults.map(({ path, message }) => `${path}: ${message}`) : [];
};

const bores = list([{ wall: 'near', diameter: 4, turn: -20, length: 11 }]);

const screwOrTool = { screw, tool: oneOf(tools) };
/** Every field of every type, those that may be left out behind those that may not. */
const types: Record<EntryType, [needed: Record<string, Kind>, more?: Record<string, Kind>]> = {
  'case-opened': [
    {
      label: text,
      zone: { good: ['Europe/Oslo', 'UTC'], bad: [...text.bad.slice(0, 2), ['Mars/Base', 'not an IANA time zone']] },
      side: oneOf(sides),
      bone: text,
      construct: oneOf(constructs),
      planned: anyText,
    },
    {
      urgency: text,
      placedBy: oneOf(['same-team', 'other-team', 'unknown']),
      placedMonthsAgo: length,
      theatreMinutes: length,
    },
  ],
  'person-listed': [{ role: oneOf(roles), who: text }],
  'bone-measured': [
    { outer: { ...above, good: [27, 11] }, cortex: above, source: oneOf(['measured', 'assumed']) },
    { screw },
  ],
  'screw-listed': [
    {
      screw,
      diameter: above,
      thread: oneOf(threads1),
      locking: flag,
      drive: oneOf(drives),
      material: oneOf(materials1),
      length: { good: [...length.good, null], bad: length.bad },
      cortices: {
        good: [1, 2],
        bad: [
          [3, 'expected 1 or 2'],
          [0, 'expected 1 or 2'],
        ],
      },
    },
    { driveSize: above, stage: oneOf(workingStages) },
  ],
  'tool-in-room': [
    { tool: oneOf(tools), present: flag },
    { fits: list([2.7, 3.5]), size: above, outer: above, inner: above },
  ],
  'consent-point': [{ point: oneOf(consent), confirmed: flag }],
  'limits-set': [
    {},
    {
      boneConsider: share,
      boneStop: { ...share, good: [1, 0.3, 0] },
      tourniquetMinutes: length,
      theatreMinutes: length,
    },
  ],
  'work-started': [{}],
  'screw-called': [{ screw }],
  'move-started': [
    {
      screw,
      move: {
        good: moves.filter((id) => id !== 'leave-in'),
        bad: [...oneOf(moves).bad, ['leave-in', 'leaving in is entered as left-in, not as a move']],
      },
    },
    { tool: oneOf(tools), reverseConfirmed: flag, bores },
  ],
  'move-ended': [
    { screw, outcome: { ...oneOf(outcomes), good: outcomes.filter((id) => id !== 'shank-broke') } },
    { bores, recovered: length },
  ],
  reassessed: [{ screw, checks: { good: [{}], bad: [[[], 'expected an object']] } }],
  'hold-answered': [
    { hold: oneOf(holds, 'heat'), answer: oneOf(answers1) },
    { screw, reason: text, onWordOf: text },
  ],
  found: [
    { screw },
    {
      ...{ headProud: flag, shankProud: flag, tipProud: flag, corridor: flag },
      ...{ fragmentLength: length, nearSurface: finite },
    },
  ],
  'plate-off': [{}],
  'colleague-called': [{}, { who: text }],
  'left-in': [
    { length: { good: [...length.good, null], bad: length.bad }, where: text, reason: text },
    { ...screwOrTool, toldTo: text, imageTaken: flag, decidedBy: text },
  ],
  'piece-recovered': [{ length }, screwOrTool],
  'tool-damaged': [
    { tool: oneOf(tools), how: text, tipMissing: flag },
    { length, kept: flag },
  ],
  tourniquet: [{ to: oneOf(['up', 'down']) }, { pressure: above }],
  images: [{ shots: count }, { dose: length, doseUnit: text }],
  antibiotic: [{ drug: text }, { dose: text }],
  'blood-loss': [{ ml: length }],
  'washed-out': [{}],
  'clock-compared': [{ theatreClock: time }],
  'clock-jumped': [{ seconds: finite }],
  'note-field': [
    { field: oneOf(noteFields) },
    { text, notApplicable: { good: [true], bad: [[false, 'expected true']] } },
  ],
  'patient-told': [{ state: oneOf(['told', 'to-be-told']), by: text, points: list(toldPoints) }],
  signed: [{ who: text, role: oneOf(roles), meaning: text }],
  remark: [{ text }, { kind: oneOf(['addendum', 'correction']) }],
  struck: [{ entry: from1, reason: text }],
  'count-answered': [
    { by: { good: [['scrub', 'surgeon']], bad: list([]).bad } },
    { discrepancy: text, imageTaken: flag },
  ],
  'work-ended': [{}],
  'case-closed': [{}],
};
const every = Object.entries(types) as [EntryType, (typeof types)[EntryType]][];

/** Of two fields that exclude each other, the one that stays when the other is tried. */
const instead: Partial<Record<EntryType, Record<string, string>>> = {
  'left-in': { screw: 'tool', tool: 'screw' },
  'piece-recovered': { screw: 'tool', tool: 'screw' },
  'note-field': { text: 'notApplicable', notApplicable: 'text' },
};

function filled(type: EntryType, fields: Record<string, Kind>): Record<string, unknown> {
  return {
    ...common,
    type,
    ...Object.fromEntries(Object.entries(fields).map(([key, { good }]) => [key, good[0]])),
  };
}
/** An entry with all its fields, of two that exclude each other without the second. */
function whole(type: EntryType, without?: string): Record<string, unknown> {
  const [needed, more = {}] = types[type];
  const entry = filled(type, { ...needed, ...more });
  const pair = Object.keys(instead[type] ?? {});
  const gone = pair.length === 0 ? undefined : (without ?? pair[1]);
  if (gone !== undefined) Reflect.deleteProperty(entry, gone);
  return entry;
}

it('the table below names every type of format 1', () =>
  expect(Object.keys(types)).toEqual(Object.keys(fields1(content.ids))));

describe.each(every)('%s', (type, [needed, more = {}]) => {
  const fields = Object.entries({ ...needed, ...more });

  it('is read with all its fields, and comes out as it went in', () => {
    const entry = { ...whole(type), calledBy: 'surgeon', loggedBy: 'circulating', seal };
    expect(check(entry)).toEqual({ entry });
  });

  it('is read with each value that a field may have', () => {
    for (const [key, { good }] of fields)
      for (const value of good) {
        const entry = { ...whole(type, instead[type]?.[key]), [key]: value };
        expect(check(entry), `${key} ${String(value)}`).toEqual({ entry });
      }
  });

  it('is refused with a wrong value, in words', () => {
    for (const [key, { bad }] of fields)
      for (const [value, said] of bad)
        expect(faults({ ...whole(type, instead[type]?.[key]), [key]: value })).toContain(`it.${key}: ${said}`);
  });

  it('needs the fields that it needs and no other', () => {
    for (const key of ['n', 'at', 'logged', ...Object.keys(needed)]) {
      const { [key]: _, ...rest } = whole(type);
      expect(faults(rest)).toEqual([`it.${key}: missing`]);
    }
    const either = Object.keys(instead[type] ?? {})[0];
    const least = { ...filled(type, needed), ...(either && { [either]: more[either]?.good[0] }) };
    expect(check(least)).toEqual({ entry: least });
  });

  it('has no other fields', () =>
    expect(faults({ ...whole(type), surplus: 1 })).toEqual(['it.surplus: unknown field']));
});

describe('what every entry has', () => {
  const plain = { ...common, type: 'plate-off' };

  it.each<[string, Kind]>([
    ['n', from1],
    ['at', time],
    ['logged', time],
    ['calledBy', oneOf(roles, 'visitor')],
    ['loggedBy', oneOf(roles, 'visitor')],
    [
      'seal',
      {
        good: [seal],
        bad: [
          [5, 'expected text'],
          ...[seal.slice(1), `${seal}0`, `${seal}\n`, ` ${seal}`, seal.toUpperCase(), 'g'.repeat(64)].map(
            (wrong) => [wrong, 'expected 64 lower-case hexadecimal digits'] as const,
          ),
        ],
      },
    ],
  ])('%s', (key, { good, bad }) => {
    for (const value of good) expect(check({ ...plain, [key]: value })).toEqual({ entry: { ...plain, [key]: value } });
    for (const [value, said] of bad) expect(faults({ ...plain, [key]: value })[0]).toBe(`it.${key}: ${said}`);
  });

  it('is a type that is known', () => {
    expect(faults(common)).toEqual(['it.type: missing']);
    expect(faults({ ...common, type: 'screw-lost' })).toEqual(['it.type: unknown entry type "screw-lost"']);
    expect(faults({ ...common, type: 5 })).toEqual(['it.type: unknown entry type 5']);
    expect(faults({ ...common, type: null })).toEqual(['it.type: unknown entry type null']);
    for (const none of [null, [], 'x', 3]) expect(faults(none)).toEqual(['it: expected an object']);
  });
});

describe('text', () => {
  const said = (text: string) => faults({ ...common, type: 'remark', text });
  const [high, low] = ['\ud83d', '\ude00'];

  it.each([`${high}${low}`, `a${high}${low}b`, `${high}${low}${high}${low}`])(
    'with whole characters is taken: %j',
    (t) => expect(said(t)).toEqual([]),
  );

  it.each([
    ...[high, low, `a${high}`, `${high}a`, `a${low}`, `${low}a`, `${low}${high}`],
    ...[`${high}${high}${low}`, `${high}${low}${low}`, '\ud800', '\udbff', '\udc00', '\udfff'],
  ])('with half a character is refused: %j', (t) => expect(said(t)).toEqual(['it.text: not well-formed Unicode']));
});

describe('a bore', () => {
  const said = (bore: unknown) => faults({ ...whole('move-ended'), bores: [bore] });
  const kinds: Record<string, Kind> = { wall: oneOf(['near', 'far', 'both']), diameter: above, turn: finite, length };

  it('has a wall and a diameter, and may have a turn and a length', () => {
    expect(said({ wall: 'far', diameter: 3 })).toEqual([]);
    expect(said({ diameter: 3 })).toEqual(['it.bores[0].wall: missing']);
    expect(said({ wall: 'far' })).toEqual(['it.bores[0].diameter: missing']);
    expect(said({ wall: 'far', diameter: 3, depth: 1 })).toEqual(['it.bores[0].depth: unknown field']);
    for (const none of [[], 5, 'x']) expect(said(none)).toEqual(['it.bores[0]: expected an object']);
    for (const [key, { good, bad }] of Object.entries(kinds)) {
      for (const value of good) expect(said({ wall: 'near', diameter: 3, [key]: value })).toEqual([]);
      for (const [value, word] of bad)
        expect(said({ wall: 'near', diameter: 3, [key]: value })).toEqual([`it.bores[0].${key}: ${word}`]);
    }
  });
});

describe('the items of a list', () => {
  it('are checked like fields', () => {
    expect(faults({ ...whole('tool-in-room'), fits: [3, 0] })).toEqual(['it.fits[1]: must be greater than 0']);
    const unknown = `unknown value "heat", expected one of`;
    expect(faults({ ...whole('patient-told'), points: ['mri', 'heat'] })).toEqual([
      `it.points[1]: ${unknown} ${toldPoints.join(', ')}`,
    ]);
    expect(faults({ ...whole('count-answered'), by: ['heat'] })).toEqual([`it.by[0]: ${unknown} ${roles.join(', ')}`]);
  });

  it('of a look are yes or no, each of its own', () => {
    const look = (checks: object) => faults({ ...whole('reassessed'), checks });
    for (const key of ['recessCleared', 'fullySeated', 'inLine', 'freshDriver']) {
      for (const value of [true, false]) expect(look({ [key]: value })).toEqual([]);
      expect(look({ [key]: 'yes' })).toEqual([`it.checks.${key}: expected true or false`]);
    }
    expect(look({ clean: true })).toEqual(['it.checks.clean: unknown field']);
  });
});

describe('two fields of one entry', () => {
  it('the cortex is less than half the bone', () => {
    const bone = (outer: number, cortex: number) => faults({ ...whole('bone-measured'), outer, cortex });
    expect(bone(20, 9.9)).toEqual([]);
    expect(bone(20, 10)).toEqual(['it.cortex: must be less than half the outer diameter']);
    expect(bone(20, 11)).toEqual(['it.cortex: must be less than half the outer diameter']);
  });

  it('a broken shank says whether it can be reached, and nothing else does', () => {
    const end = (outcome: string, more: object = {}) =>
      faults({ ...common, type: 'move-ended', screw: '1', outcome, ...more });
    expect(end('shank-broke')).toEqual([
      'it.reachable: required after shank-broke: can a stump still be reached at the near cortex?',
    ]);
    for (const reachable of [true, false]) {
      expect(end('shank-broke', { reachable })).toEqual([]);
      expect(end('out', { reachable })).toEqual(['it.reachable: belongs to the outcome shank-broke alone']);
    }
    expect(end('shank-broke', { reachable: 'yes' })).toEqual(['it.reachable: expected true or false']);
  });

  it('a tool jammed in the screw is said of one that came out', () => {
    const end = (outcome: string, toolJammed: unknown) =>
      faults({ ...common, type: 'move-ended', screw: '1', outcome, toolJammed });
    for (const jammed of [true, false]) {
      expect(end('out', jammed)).toEqual([]);
      expect(end('moving', jammed)).toEqual(['it.toolJammed: belongs to the outcome out alone']);
    }
    expect(end('out', 'yes')).toEqual(['it.toolJammed: expected true or false']);
  });

  it.each(['left-in', 'piece-recovered'] as const)('%s is of a screw or of a tool', (type) => {
    const both = { ...whole(type), screw: '1', tool: 'pick' };
    const { screw: _, tool: _t, ...neither } = both;
    for (const entry of [both, neither]) expect(faults(entry)).toEqual(['it: needs either a screw or a tool']);
  });

  it('a field of the note has text or does not apply', () => {
    const { text: _, ...neither } = whole('note-field');
    for (const entry of [neither, { ...neither, text: 'x', notApplicable: true }])
      expect(faults(entry)).toEqual(['it: needs either text or notApplicable']);
  });

  it('a count names somebody', () =>
    expect(faults({ ...whole('count-answered'), by: [] })).toEqual(['it.by: names nobody']));

  it('limits do not cross; one alone crosses nothing', () => {
    const limits = (boneConsider?: number, boneStop?: number) =>
      faults({
        ...{ ...common, type: 'limits-set' },
        ...(boneConsider !== undefined && { boneConsider }),
        ...(boneStop !== undefined && { boneStop }),
      });
    expect(limits(0.3, 0.3)).toEqual([]);
    expect(limits(0.31, 0.3)).toEqual(['it.boneConsider: must not be greater than boneStop']);
    expect(limits(0.9)).toEqual([]);
    expect(limits(undefined, 0.1)).toEqual([]);
  });
});

describe('a value in a message', () => {
  it('stands as it is up to 60 characters, else its first 57 and a dot-dot-dot', () => {
    const quoted = (size: number) => 'x'.repeat(size - 2);
    expect(show(quoted(60))).toBe(`"${quoted(60)}"`);
    expect(show(quoted(61))).toBe(`"${'x'.repeat(56)}…`);
    expect(show(undefined)).toBe('undefined');
    expect(show({ a: [1] })).toBe('{"a":[1]}');
  });

  it('leaves no message longer than 300 characters', () => {
    const [said = ''] = faults({ ...whole('move-started'), move: 'x'.repeat(400) });
    expect(said).toHaveLength('it.move: '.length + 300);
  });
});
