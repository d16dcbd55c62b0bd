/**
 * Logs of format 1 by chance, for fast-check: plausible ones, played on the machine itself, and scrambled ones. All
 * well-formed.
 */
import fc from 'fast-check';
import { roles, toldPoints, workingStages, type Ids } from '../ids.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { answers1, materials1, threads1, type fields1 } from '../../machines/fields-1.ts';
import { content as present, Log, offered } from './build.ts';

type EntryType = keyof ReturnType<typeof fields1>;

const screws = ['1', '2', '3', 'x'] as const;
const small = (min: number, max: number) => fc.integer({ min: min * 2, max: max * 2 }).map((half) => half / 2);
const text = fc.constantFrom('as planned', 'nothing seen', 'Schraube fest ✓', 'line one\nline two');

const bore = fc.record(
  {
    wall: fc.constantFrom('near', 'far', 'both'),
    diameter: small(1, 8),
    turn: fc.integer({ min: -360, max: 360 }),
    length: small(1, 40),
  },
  { requiredKeys: ['wall', 'diameter'] },
);
const bores = fc.array(bore, { maxLength: 2 });
/** Entries by chance with the ids of one content. */
function build(ids: Ids) {
  const screw = fc.constantFrom(...screws);
  const tool = fc.constantFrom(...ids.tools);
  const move = fc.constantFrom(...ids.moves.filter((id) => id !== 'leave-in'));
  const diameter = fc.constantFrom(2.7, 3.5, 4.5, 6.5);
  const role = fc.constantFrom(...roles);

  const moveEnded = fc
    .record(
      {
        screw,
        outcome: fc.constantFrom(...ids.outcomes),
        bores,
        recovered: small(0, 40),
        toolJammed: fc.boolean(),
        reachable: fc.boolean(),
      },
      { requiredKeys: ['screw', 'outcome', 'reachable'] },
    )
    .map(({ reachable, toolJammed, ...end }) => ({
      ...end,
      ...(end.outcome === 'shank-broke' && { reachable }),
      ...(end.outcome === 'out' && toolJammed !== undefined && { toolJammed }),
    }));

  const screwOrTool = <T extends object>(more: fc.Arbitrary<T>) =>
    fc
      .tuple(
        fc.oneof(
          screw.map((id) => ({ screw: id })),
          tool.map((id) => ({ tool: id })),
        ),
        more,
      )
      .map(([what, rest]) => ({ ...what, ...rest }));

  /** Fields of one entry of every type; measures stay clear of what is refused between entries. */
  const fields: Record<EntryType, fc.Arbitrary<object>> = {
    'case-opened': fc.record({
      label: fc.constant('Room 2'),
      zone: fc.constantFrom('Europe/Oslo', 'UTC'),
      side: fc.constantFrom('left', 'right'),
      bone: fc.constantFrom('tibia', 'femur', 'Fibula', 'carpus'),
      construct: fc.constantFrom('plate', 'nail', 'screws'),
      planned: text,
      theatreMinutes: fc.constantFrom(5, 60),
    }),
    'person-listed': fc.record({ role, who: text }),
    'bone-measured': fc.record(
      { screw, outer: small(10, 35), cortex: small(1, 4), source: fc.constantFrom('measured', 'assumed') },
      { requiredKeys: ['outer', 'cortex', 'source'] },
    ),
    'screw-listed': fc.record(
      {
        screw,
        diameter,
        thread: fc.constantFrom(...threads1),
        locking: fc.boolean(),
        drive: fc.constantFrom(...ids.drives),
        driveSize: fc.constantFrom(2.5, 3.5, 15),
        material: fc.constantFrom(...materials1),
        length: fc.option(small(10, 60)),
        cortices: fc.constantFrom(1, 2),
        stage: fc.constantFrom(...workingStages),
      },
      { requiredKeys: ['screw', 'diameter', 'thread', 'locking', 'drive', 'material', 'length', 'cortices'] },
    ),
    'tool-in-room': fc.record(
      {
        tool,
        present: fc.boolean(),
        fits: fc.array(diameter, { maxLength: 2 }),
        size: fc.constantFrom(2.5, 3.5),
        outer: small(4, 9),
        inner: small(2, 7),
      },
      { requiredKeys: ['tool', 'present'] },
    ),
    'consent-point': fc.record({ point: fc.constantFrom(...ids.consent), confirmed: fc.boolean() }),
    'limits-set': fc.record(
      {
        boneConsider: fc.constantFrom(0, 0.1, 0.3),
        boneStop: fc.constantFrom(0.3, 0.4, 1),
        tourniquetMinutes: fc.constantFrom(1, 30),
        theatreMinutes: fc.constantFrom(0, 30),
      },
      { requiredKeys: [] },
    ),
    'work-started': fc.constant({}),
    'screw-called': fc.record({ screw }),
    'move-started': fc.record(
      { screw, move, tool, reverseConfirmed: fc.boolean(), bores },
      { requiredKeys: ['screw', 'move'] },
    ),
    'move-ended': moveEnded,
    reassessed: fc.record({
      screw,
      checks: fc.record({ inLine: fc.boolean(), recessCleared: fc.boolean() }, { requiredKeys: [] }),
    }),
    'hold-answered': fc.record(
      { hold: fc.constantFrom(...ids.holds), screw, answer: fc.constantFrom(...answers1), reason: text },
      { requiredKeys: ['hold', 'answer'] },
    ),
    found: fc.record(
      {
        screw,
        headProud: fc.boolean(),
        shankProud: fc.boolean(),
        tipProud: fc.boolean(),
        corridor: fc.boolean(),
        nearSurface: small(0, 5),
      },
      { requiredKeys: ['screw'] },
    ),
    'plate-off': fc.constant({}),
    'colleague-called': fc.record({ who: text }, { requiredKeys: [] }),
    'left-in': screwOrTool(fc.record({ length: fc.option(small(0, 40)), where: text, reason: text })),
    'piece-recovered': screwOrTool(fc.record({ length: small(0, 20) })),
    'tool-damaged': fc.record(
      { tool, how: text, tipMissing: fc.boolean(), length: small(0, 8) },
      { requiredKeys: ['tool', 'how', 'tipMissing'] },
    ),
    tourniquet: fc.record({ to: fc.constantFrom('up', 'down') }),
    images: fc.record({ shots: fc.nat(9) }),
    antibiotic: fc.record({ drug: fc.constantFrom('cefazolin', 'vancomycin', 'house mixture') }),
    'blood-loss': fc.record({ ml: fc.nat(900) }),
    'washed-out': fc.constant({}),
    'clock-compared': fc.constant({ theatreClock: '2026-03-04T08:00:00Z' }),
    'clock-jumped': fc.record({ seconds: fc.integer({ min: -7200, max: 7200 }) }),
    'note-field': fc.record({ field: fc.constantFrom(...ids.noteFields), text }),
    'patient-told': fc.record({
      state: fc.constantFrom('told', 'to-be-told'),
      by: text,
      points: fc.subarray([...toldPoints]),
    }),
    signed: fc.record({ who: text, role, meaning: text }),
    remark: fc.record({ text }),
    struck: fc.record({ entry: fc.integer({ min: 1, max: 45 }), reason: text }),
    'count-answered': fc.record(
      { by: fc.array(role, { minLength: 1, maxLength: 3 }), discrepancy: text, imageTaken: fc.boolean() },
      { requiredKeys: ['by'] },
    ),
    'work-ended': fc.constant({}),
    'case-closed': fc.constant({}),
  };

  const ofType = (type: EntryType) => fields[type].map((own) => ({ type, ...own }) as unknown as EntryDraft);
  const types = Object.keys(fields) as EntryType[];
  /** Endings are rare, or nothing would come after them. */
  const rare: readonly EntryType[] = ['case-closed', 'work-ended', 'case-opened'];
  const anyDraft = fc.oneof(
    ...types.map((type) => ({ weight: rare.includes(type) ? 1 : 4, arbitrary: ofType(type) })),
    { weight: 40, arbitrary: ofType('move-started') },
    { weight: 40, arbitrary: ofType('move-ended') },
  );

  return { ofType, anyDraft };
}

const known = new WeakMap<Content, ReturnType<typeof build>>();
function draftsOf(content: Content) {
  const drafts = known.get(content) ?? build(content.ids);
  known.set(content, drafts);
  return drafts;
}

/** Seconds since the entry before, and how many of them late. */
const pace = fc.tuple(fc.nat(900), fc.oneof({ weight: 4, arbitrary: fc.constant(0) }, fc.nat(3600)));

function logOf(content: Content, drafts: readonly (readonly [EntryDraft, readonly [number, number]])[]): Log {
  const log = new Log(undefined, content);
  let logged = Date.UTC(2026, 2, 4, 22, 0, 0);
  for (const [draft, [gap, late]] of drafts) {
    logged += gap * 1000;
    log.write({ ...draft, at: new Date(logged - late * 1000).toISOString(), logged: new Date(logged).toISOString() });
  }
  return log;
}

/** Any entries in any order. Half of the logs at least begin with a case and a screw. */
export function scrambledIn(content: Content): fc.Arbitrary<Log> {
  const { ofType, anyDraft } = draftsOf(content);
  return fc
    .tuple(
      fc.boolean(),
      ofType('case-opened'),
      ofType('screw-listed'),
      fc.array(fc.tuple(anyDraft, pace), { maxLength: 40 }),
    )
    .map(([begun, opened, listed, rest]) =>
      logOf(content, [
        ...(begun
          ? ([
              [opened, [1, 0]],
              [listed, [1, 0]],
              [{ type: 'work-started' }, [1, 0]],
            ] as const)
          : []),
        ...rest,
      ]),
    );
}
export const scrambled = scrambledIn(present);

/** What could well be entered next, by what stands. `pick` chooses. */
function plausible(log: Log, pick: (options: number) => number): EntryDraft {
  const { outcomes, tools } = log.content.ids;
  const { screws: all, phase } = log.view;
  const ids = Object.keys(all);
  const id = ids[pick(ids.length)] as string;
  const now = all[id];
  const choose = <T>(options: readonly T[]) => options[pick(options.length)] as T;
  if (!now || phase === 'closed') return { type: 'remark', text: 'seen again' };
  if (phase === 'briefing') return { type: 'work-started' };
  if (now.move !== null) {
    const outcome = choose(outcomes);
    return {
      type: 'move-ended',
      screw: id,
      outcome,
      ...(outcome === 'shank-broke' && { reachable: pick(2) === 0 }),
      ...(pick(3) === 0 && { recovered: pick(20) }),
    };
  }
  const options: EntryDraft[] = [
    { type: 'found', screw: id, headProud: true, shankProud: pick(2) === 0, tipProud: pick(2) === 0 },
    { type: 'tool-in-room', tool: choose(tools), present: pick(4) > 0 },
    { type: 'images', shots: 2 },
  ];
  if (now.holds.includes('reassess')) options.push({ type: 'reassessed', screw: id, checks: { inLine: true } });
  if (now.holds.includes('second-surgeon')) options.push({ type: 'colleague-called' });
  for (const name of offered(now))
    if (name !== 'leave-in')
      for (let weight = 0; weight < 3; weight++)
        options.push({ type: 'move-started', screw: id, move: name, reverseConfirmed: pick(2) === 0 });
  if (now.offered.length && pick(8) === 0)
    options.push({ type: 'left-in', screw: id, length: null, where: 'far cortex', reason: 'deep' });
  if (log.n > 15) options.push({ type: 'struck', entry: 1 + pick(log.n - 1), reason: 'typing error' });
  if (pick(12) === 0) options.push({ type: phase === 'closing' ? 'case-closed' : 'work-ended' });
  return choose(options);
}

/** Played on the machine: moves that are offered, ends that can be, corrections now and then. */
export function playedIn(content: Content): fc.Arbitrary<Log> {
  const { ofType } = draftsOf(content);
  return fc
    .tuple(
      ofType('case-opened'),
      fc.array(ofType('screw-listed'), { minLength: 1, maxLength: 3 }),
      fc.subarray([...content.ids.tools], { minLength: 10 }),
      fc.array(fc.nat(10_000), { maxLength: 160 }),
      fc.integer({ min: 5, max: 30 }),
    )
    .map(([opened, listed, tools, choices, length]) => {
      const log = new Log(undefined, content).write(opened);
      for (const draft of listed) log.write(draft);
      log.room(...tools);
      let at = 0;
      const pick = (options: number) =>
        options > 0 ? (choices[at++ % Math.max(1, choices.length)] ?? 0) % options : 0;
      for (let i = 0; i < length; i++) log.write(plausible(log, pick));
      return log;
    });
}
export const played = playedIn(present);

const numRuns = 60;
let sample: readonly Log[] | undefined;
/** Sixty of them, the same at every run; played when a test first asks, since what breaks at load is no failed test. */
export const games: fc.Arbitrary<Log> = fc
  .nat(numRuns - 1)
  .map((i) => (sample ??= fc.sample(played, { seed: 20260304, numRuns }))[i] as Log);

export const anyLog = fc.oneof(games, scrambled);
