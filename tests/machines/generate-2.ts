/** Logs of format 2 by chance, for fast-check: what can be told at the table, in any order, with numbers that are there. */
import fc from 'fast-check';
import type { EntryDraft } from '../../machines/entry.ts';
import { table2 } from './build-2.ts';
import type { Log } from './build.ts';

const screws = ['1', '2', '3'] as const;
const parts = ['plate', 'cable'] as const;
const heads = ['piece', 'in-plate', 'shavings', 'partly', 'not-seen'] as const;
const origins = ['measured', 'image', 'difference'] as const;
const reasons = ['bleeding', 'time', 'other'] as const;

/** What could be told next. `pick` chooses, also which entry before it a word is about. */
function told(log: Log, pick: (options: number) => number): EntryDraft {
  const { moves, outcomes, tools } = log.content.ids;
  const ladder2 = log.content.ladder === 2;
  const choose = <T>(options: readonly T[]) => options[pick(options.length)] as T;
  const screw = choose(screws);
  const tool = choose(tools);
  const maybe = <T extends object>(more: () => T): Partial<T> => (pick(2) === 0 ? more() : {});
  const measured = () => ({ length: pick(40), lengthHow: choose(origins) });
  const starts = log.entries.filter(({ type }) => type === 'move-started').map(({ n }) => n);
  const start = starts.length > 0 ? choose(starts) : 1;
  const entry = 1 + pick(log.n);
  const running = screws.find((id) => log.folded.screws.get(id)?.context.running);
  const outcome = choose(outcomes);
  const ended = {
    ...({ type: 'move-ended', screw: running ?? screw, outcome } as const),
    ...(outcome === 'shank-broke' && { reachable: pick(2) === 0 }),
    ...maybe(() => ({ recovered: pick(40), lengthHow: choose(origins) })),
    ...maybe(() => ({ recess: choose(['sound', 'damaged'] as const) })),
    ...maybe(() => ({ head: choose(heads) })),
    ...(ladder2 && {
      ...(outcome === 'turns-free' && { turned: choose(['screw', 'driver', 'not-known'] as const) }),
      ...maybe(() => ({ depth: pick(50) })),
      ...maybe(() => ({ recess: choose(['sound', 'damaged', 'not-seen'] as const) })),
      ...maybe(() => ({ bores: pick(2) === 0 ? [] : [{ wall: 'near' as const, diameter: 3 + pick(6) }] })),
    }),
  };
  const finds = (): EntryDraft => ({
    type: 'found',
    screw,
    ...maybe(() => ({ headProud: pick(2) === 0, headCovered: pick(2) === 0 })),
    ...maybe(() => ({ shankStands: pick(12) - 3 })),
    ...maybe(() => ({ tipProud: pick(2) === 0, corridor: pick(2) === 0 })),
  });
  // The listing itself may have been struck.
  const asked = ladder2 ? log.view.screws[choose(['1', '2'] as const)] : undefined;
  const offers = (asked?.offered ?? []).filter(({ move }) => move !== 'leave-in');
  const options: (() => EntryDraft)[] = [
    () => ({ type: 'move-started', screw, move: choose(moves.filter((id) => id !== 'leave-in')) }),
    () => ({ type: 'move-started', screw, move: 'pack-recess' }),
    () => ended,
    () => ended,
    () => ended,
    () => ({ ...ended, start }),
    () => ({ type: 'move-answered', of: start, recess: choose(['sound', 'damaged'] as const), head: choose(heads) }),
    () => ({ type: 'length-answered', screw, answer: 'broke', reachable: pick(2) === 0 }),
    () => ({ type: 'length-answered', screw, answer: choose(['listed-wrong', 'lost'] as const) }),
    () => ({ type: 'piece-recovered', screw, ...measured(), complete: pick(3) === 0 }),
    () => ({ type: 'piece-recovered', screw, whole: true, ...maybe(measured) }),
    () => ({ type: 'piece-recovered', tool, ...measured() }),
    () => ({ type: 'left-in', screw, length: null, where: 'canal', reason: 'deep', imageTaken: pick(2) === 0 }),
    () => ({ type: 'destroyed', screw, what: choose(['head', 'shank'] as const), how: 'burr', ...maybe(measured) }),
    () => ({ type: 'head-seen', screw, head: choose(heads) }),
    () => ({ type: 'tool-damaged', tool, how: 'tip gone', tipMissing: true, ...maybe(measured) }),
    () => ({ type: 'part-listed', part: choose(parts), kind: 'cable', pieces: 1 + pick(3) }),
    () => ({
      type: 'part-ended',
      part: choose(parts),
      end: choose(['out', 'left-in', 'not-found'] as const),
      piece: 1 + pick(2),
    }),
    () => ({ type: 'part-move', part: 'plate', move: 'lever-plate', outcome: choose(['out', 'moving'] as const) }),
    () => ({ type: 'plate-off' }),
    () => ({ type: 'put-in', part: 'new plate', kind: 'plate', where: 'tibia' }),
    () => ({ type: 'reassessed', screw, checks: {} }),
    () => ({ type: 'colleague-called' }),
    () => ({ type: 'hold-answered', hold: 'reassess', answer: 'heeded', screw }),
    () => ({ type: 'deferred', screw }),
    () => ({ type: 'stopped', ...maybe(() => ({ reason: choose(reasons) })) }),
    () => ({ type: 'reassigned', entries: [entry], screw }),
    () => ({ type: 'reassigned', swap: ['1', '2'], from: entry }),
    () => ({ type: 'struck', entry, reason: 'typing error' }),
    () => ({
      type: 'screw-listed',
      screw,
      diameter: null,
      thread: 'partly',
      locking: null,
      drive: 'unknown',
      material: 'unknown',
      length: 10 + pick(40),
      cortices: null,
    }),
    () => ({ type: 'tourniquet', to: choose(['up', 'down'] as const) }),
    () => ({ type: 'clock-jumped', seconds: choose([3600, -3600, 90]) }),
    () => ({ type: 'resumed', device: 'tablet', gap: choose(['known', 'not-known'] as const) }),
    () => ({ type: 'work-ended' }),
    () => ({
      type: 'count-answered',
      by: ['scrub', 'surgeon'],
      ...maybe(() => ({ discrepancy: 'x', image: 'clear' as const })),
    }),
  ];
  if (ladder2)
    options.push(
      finds,
      finds,
      ...offers.map(({ move }) => (): EntryDraft => ({ type: 'move-started', screw: running ?? screw, move })),
      ...offers.map(({ move }) => (): EntryDraft => ({ type: 'move-started', screw, move, tool })),
    );
  if (pick(40) === 0) return { type: 'case-closed' };
  return choose(options)();
}

/**
 * Two screws at the table, and up to forty things told of them, one in four late by up to an hour. What is written is
 * well-formed; whether it can have happened is for the fold to say.
 */
export const toldFrom = (begun: () => Log): fc.Arbitrary<Log> =>
  fc
    .tuple(fc.array(fc.nat(10_000), { minLength: 20, maxLength: 200 }), fc.integer({ min: 3, max: 40 }))
    .map(([choices, length]) => {
      const log = begun().screw('2');
      let at = 0;
      let now = Date.UTC(2026, 2, 4, 9, 0, 0);
      const pick = (options: number) => (options > 0 ? (choices[at++ % choices.length] ?? 0) % options : 0);
      for (let i = 0; i < length; i++) {
        const draft = told(log, pick);
        // The clock runs back where it says so, and at no other place.
        now +=
          draft.type === 'clock-jumped'
            ? draft.seconds * 1000
            : draft.type === 'resumed'
              ? (pick(3) - 1) * 1_800_000
              : pick(300) * 1000;
        const late = pick(4) === 0 && draft.type !== 'clock-jumped' && draft.type !== 'resumed' ? pick(3600) * 1000 : 0;
        log.write({ ...draft, at: new Date(now - late).toISOString(), logged: new Date(now).toISOString() });
      }
      return log;
    });

export const told2 = toldFrom(() => table2());
