/** Random logs: every type of entry, in any order, late and struck ones among them. */
import fc from 'fast-check';
import {
  consentIds,
  constructs,
  drives,
  holdIds,
  moveIds,
  noteFields,
  outcomes,
  roles,
  sides,
  toldPoints,
  toolIds,
  workingStages,
} from '../ids.ts';
import {
  answers,
  eventKinds,
  headPlaces,
  imageFindings,
  lengthOrigins,
  partKinds,
  partMoves,
  stopReasons,
} from '../../content/ids.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { answers1, materials1, threads1 } from '../../machines/fields-1.ts';
import { written } from './cases.ts';

const pick = <T extends readonly unknown[]>(values: T) => fc.constantFrom<T[number]>(...values);
const text = fc.oneof(
  fc.constantFrom(
    'scar',
    'A. Example',
    '=1+1',
    '@x',
    'two\nlines',
    '  blanks   between  ',
    '骨に残る 😀',
    'x'.repeat(120),
    '-',
    '* * *',
    '\u202Eback',
  ),
  fc.lorem({ maxCount: 30 }),
);
const length = fc.double({ min: 0, max: 60, noNaN: true });
const size = fc.double({ min: 0.5, max: 12, noNaN: true });
const screw = fc.constantFrom('1', '2', '3a');
const bores = fc.array(
  fc.record(
    { wall: pick(['near', 'far', 'both']), diameter: size, length, turn: fc.integer({ min: -180, max: 180 }) },
    { requiredKeys: ['wall', 'diameter'] },
  ),
  { maxLength: 2 },
);
const of = (
  type: string,
  fields: Record<string, fc.Arbitrary<unknown>>,
  optional: Record<string, fc.Arbitrary<unknown>> = {},
) =>
  fc.record(
    { type: fc.constant(type), ...fields, ...optional },
    { requiredKeys: ['type', ...Object.keys(fields)] as never },
  );

const opened = of(
  'case-opened',
  {
    label: text,
    zone: fc.constantFrom('Europe/Oslo', 'Asia/Kathmandu', 'America/St_Johns'),
    side: pick(sides),
    bone: fc.constantFrom('tibia', 'radius', 'ilium'),
    construct: pick(constructs),
    planned: fc.oneof(text, fc.constant('')),
  },
  {
    urgency: text,
    placedBy: pick(['same-team', 'other-team', 'unknown']),
    placedMonthsAgo: length,
    theatreMinutes: length,
  },
);
const listed = of(
  'screw-listed',
  {
    screw,
    diameter: size,
    thread: pick(threads1),
    locking: fc.boolean(),
    drive: pick(drives),
    material: pick(materials1),
    length: fc.option(length),
    cortices: pick([1, 2] as const),
  },
  { driveSize: size, stage: pick(workingStages) },
);
const outcomeOf = (entry: object) => (entry as { outcome?: string }).outcome;
const end = of('move-ended', { screw, outcome: pick(outcomes) }, { bores, recovered: length }).chain((entry) =>
  outcomeOf(entry) === 'shank-broke'
    ? fc.boolean().map((reachable) => ({ ...entry, reachable }))
    : outcomeOf(entry) === 'out'
      ? fc.boolean().map((toolJammed) => ({ ...entry, toolJammed }))
      : fc.constant(entry),
);
const start = of(
  'move-started',
  { screw, move: pick(moveIds.filter((id) => id !== 'leave-in')) },
  { tool: pick(toolIds), reverseConfirmed: fc.boolean(), bores },
);
const eitherOf = (
  type: string,
  fields: Record<string, fc.Arbitrary<unknown>>,
  optional: Record<string, fc.Arbitrary<unknown>> = {},
) => fc.oneof(of(type, { screw, ...fields }, optional), of(type, { tool: pick(toolIds), ...fields }, optional));

const others = [
  of('person-listed', { role: pick(roles), who: text }),
  of(
    'bone-measured',
    {
      outer: fc.integer({ min: 26, max: 40 }),
      cortex: fc.integer({ min: 1, max: 10 }),
      source: pick(['measured', 'assumed']),
    },
    { screw },
  ),
  of(
    'tool-in-room',
    { tool: pick(toolIds), present: fc.boolean() },
    { fits: fc.array(size, { maxLength: 3 }), size, outer: size, inner: size },
  ),
  of('consent-point', { point: pick(consentIds), confirmed: fc.boolean() }),
  of('limits-set', {}, { tourniquetMinutes: length, theatreMinutes: length }),
  of('work-started', {}),
  of('screw-called', { screw }),
  of('reassessed', {
    screw,
    checks: fc.record({ recessCleared: fc.boolean(), inLine: fc.boolean() }, { requiredKeys: [] }),
  }),
  of('hold-answered', { hold: pick(holdIds), answer: pick(answers1) }, { screw, reason: text, onWordOf: text }),
  of(
    'found',
    { screw },
    {
      headProud: fc.boolean(),
      shankProud: fc.boolean(),
      tipProud: fc.boolean(),
      corridor: fc.boolean(),
      fragmentLength: length,
      nearSurface: fc.integer({ min: -5, max: 8 }),
    },
  ),
  of('plate-off', {}),
  of('colleague-called', {}, { who: text }),
  eitherOf(
    'left-in',
    { length: fc.option(length), where: text, reason: text },
    { toldTo: text, imageTaken: fc.boolean(), decidedBy: text },
  ),
  eitherOf('piece-recovered', { length }),
  of('tool-damaged', { tool: pick(toolIds), how: text, tipMissing: fc.boolean() }, { length, kept: fc.boolean() }),
  of('tourniquet', { to: pick(['up', 'down']) }, { pressure: fc.integer({ min: 1, max: 400 }) }),
  of('images', { shots: fc.nat(20) }, { dose: length, doseUnit: fc.constantFrom('mGy', 'cGy cm2') }),
  of('antibiotic', { drug: fc.constantFrom('cefazolin', 'another drug') }, { dose: text }),
  of('blood-loss', { ml: fc.nat(900) }),
  of('washed-out', {}),
  of('clock-compared', { theatreClock: fc.constantFrom('2026-02-17T10:17:05+01:00', '2026-02-17t09:59:00z') }),
  of('clock-jumped', { seconds: fc.integer({ min: -4000, max: 4000 }) }),
  of('note-field', { field: pick(noteFields), text }),
  of('note-field', { field: pick(noteFields), notApplicable: fc.constant(true) }),
  of('patient-told', {
    state: pick(['told', 'to-be-told']),
    by: text,
    points: fc.array(pick(toldPoints), { maxLength: 4 }),
  }),
  of('signed', { who: text, role: pick(roles), meaning: text }),
  of('remark', { text }, { kind: pick(['addendum', 'correction']) }),
  of('struck', { entry: fc.integer({ min: 1, max: 30 }), reason: text }),
  of(
    'count-answered',
    { by: fc.array(pick(roles), { minLength: 1, maxLength: 3 }) },
    { discrepancy: text, imageTaken: fc.boolean() },
  ),
  of('work-ended', {}),
  of('case-closed', {}),
];

const part = fc.constantFrom('plate', 'nail', 'washer-1', 'bolt');
const nth = fc.integer({ min: 1, max: 30 });
/** What format 2 brought, and what it asks besides. */
const newer = [
  of('case-corrected', { reason: text }, { side: pick(sides), bone: text, label: text, construct: pick(constructs) }),
  of('resumed', { device: text, gap: pick(['known', 'not-known']) }),
  of('at-tablet', { role: pick(roles) }, { who: text }),
  of('part-listed', { part, kind: pick(partKinds) }, { what: text, length, pieces: fc.integer({ min: 1, max: 4 }) }),
  of(
    'part-ended',
    { part, end: pick(['out', 'left-in', 'not-found']) },
    {
      piece: fc.integer({ min: 1, max: 4 }),
      complete: fc.boolean(),
      where: text,
      reason: text,
      imageTaken: fc.boolean(),
    },
  ),
  of('put-in', { part, kind: text, where: text }, { length }),
  of(
    'part-move',
    { part, move: pick(partMoves), outcome: pick(['moving', 'out', 'tool-broke']) },
    { tool: pick(toolIds) },
  ),
  of('destroyed', { screw, what: pick(['head', 'shank', 'all']), how: pick(['shavings', 'burr']) }),
  of('head-seen', { screw, head: pick(headPlaces) }, { part, piece: fc.integer({ min: 1, max: 3 }) }),
  of('reassigned', { entries: fc.array(nth, { minLength: 1, maxLength: 3 }), screw }),
  of('reassigned', { swap: fc.constantFrom(['1', '2'], ['2', '3a']), from: nth }),
  of('stopped', {}, { reason: pick(stopReasons), text }),
  of('deferred', { screw }),
  of('event', { kind: pick(eventKinds) }, { screw, where: text, text }),
  of('move-answered', { of: nth }, { recess: pick(['damaged', 'sound', 'not-seen']), head: pick(headPlaces), bores }),
  of('length-answered', { screw, answer: fc.constant('broke'), reachable: fc.boolean() }),
  of('length-answered', { screw, answer: pick(['listed-wrong', 'lost']) }),
  of('checked', { what: pick(['loosen-first', 'first-turn', 'extractor-on', 'eyes-and-swabs']) }, { screw, size }),
  of('aftercare', { text, state: pick(['accepted', 'changed', 'dropped']) }),
  of('hole-seen', { where: pick(['off-plate', 'end-of-metal']), diameter: size }, { screw }),
  of('piece-recovered', { screw, whole: fc.constant(true) }),
  of('piece-recovered', { screw, complete: fc.constant(true) }),
  of('move-started', { screw, move: fc.constant('other'), what: text }),
  of('hold-answered', { hold: pick(holdIds), answer: pick(answers) }, { screw, reason: text, onWordOf: text }),
  of(
    'count-answered',
    { by: fc.constant(['scrub', 'surgeon']) },
    { discrepancy: text, image: pick(imageFindings), decidedBy: text },
  ),
];

/** In format 2 every length of a piece says where it comes from, and no reamer is as wide inside as outside. */
const asNewer = (entry: unknown, i: number) => {
  const told = entry as Record<string, unknown>;
  const { recovered, length: long, type } = told;
  const ofPiece = ['left-in', 'piece-recovered', 'tool-damaged'].includes(type as string);
  const has = recovered !== undefined || (ofPiece && typeof long === 'number');
  const how = lengthOrigins[i % lengthOrigins.length];
  const narrow = type === 'tool-in-room' ? { inner: undefined } : {};
  return Object.fromEntries(
    Object.entries({ ...told, ...narrow, ...(has && { lengthHow: how }) }).filter(([, value]) => value !== undefined),
  );
};

const late = (entry: unknown) =>
  fc
    .option(fc.integer({ min: 0, max: 59 }), { freq: 6 })
    .map((minute) =>
      minute === null
        ? entry
        : { ...(entry as object), at: `2026-02-16T23:${String(minute).padStart(2, '0')}:30.000+01:00` },
    );
const roleOf = (entry: unknown) =>
  fc
    .option(pick(roles))
    .map((calledBy) => (calledBy === null ? entry : { ...(entry as object), calledBy, loggedBy: 'circulating' }));

const logOf = (format: 1 | 2): fc.Arbitrary<Entry[]> =>
  fc
    .tuple(
      fc.oneof(
        { weight: 5, arbitrary: fc.tuple(opened, listed, of('work-started', {})) },
        { weight: 1, arbitrary: fc.constant([]) },
      ),
      fc.array(
        fc
          .oneof(
            { weight: 4, arbitrary: start },
            { weight: 4, arbitrary: end },
            { weight: 2, arbitrary: listed },
            { weight: 9, arbitrary: fc.oneof(...others) },
            ...(format === 2 ? [{ weight: 9, arbitrary: fc.oneof(...newer) }] : []),
            { weight: 1, arbitrary: opened },
          )
          .chain(late)
          .chain(roleOf),
        { maxLength: 40 },
      ),
    )
    .map(([first, rest]) => {
      const all = [...first, ...rest];
      if (format === 1) return written(all as EntryDraft[], start0, 75);
      // An old case that goes on, or one that was opened in format 2.
      const raised = { type: 'format-raised', to: 2, rules: 2 };
      const [opening, ...more] = first.length ? all : [raised, ...all];
      const begun = first.length ? { ...(opening as object), rules: 2, contentVersion: '2026.1' } : opening;
      return written([begun, ...more].map(asNewer) as unknown as EntryDraft[], start0, 75);
    });

const start0 = '2026-02-17T10:00:00.000+01:00';

/**
 * Logs of both formats that mostly open, list and start first, then hold anything. Blank text is left out: no screen
 * enters it.
 */
export const randomLog: fc.Arbitrary<Entry[]> = fc.oneof(logOf(1), logOf(2));
