/** Deeds that are moves on screws: what came of each attempt, alike ones together. */
import { moveOf } from '../../../content/moves.ts';
import type { Outcome } from '../../../content/ids.ts';
import type { RecordLog } from '../log.ts';
import type { Attempt, ScrewFate } from '../model.ts';
import type { Deed, DeedKind, Way } from './deed.ts';

/** Numbers of the entries of an attempt. */
const entriesOf = ({ n, endedBy }: Attempt): number[] => (endedBy === null ? [n] : [n, endedBy]);

function wayOf({ entries, locale }: RecordLog, { move, n }: Attempt): Way {
  const start = entries[n - 1];
  return start?.type === 'move-started' && start.what !== undefined
    ? { move, what: locale.clean(start.what) }
    : { move };
}

/** Did it come out by the matched driver alone, with nothing else to tell of it? */
function isPlain({ stage, attempts, foundAfter }: ScrewFate, isOpen: boolean): boolean {
  return (
    !isOpen &&
    stage === 'out' &&
    foundAfter === null &&
    attempts.at(-1)?.outcome === 'out' &&
    attempts.every(({ move, outcome }, i) =>
      i === attempts.length - 1 ? move === 'turn-out' : move === 'turn-out' && outcome === 'moving',
    )
  );
}

/** Kinds of sentences by outcome, with what they weigh. */
const kinds: Partial<Record<Outcome, readonly [DeedKind, number]>> = {
  slipped: ['slipped', 70],
  'no-change': ['no-change', 60],
  'turns-free': ['turns-free', 60],
  'shank-broke': ['shank-broke', 92],
  'tool-broke': ['tool-broke', 92],
  'tool-jammed': ['tool-jammed', 90],
  moving: ['moved', 30],
  'set-up-done': ['readied', 30],
};

/** What the attempt came to; `isLastOut`: it is the one by which its screw is out. */
function kindOf(log: RecordLog, attempt: Attempt, isLastOut: boolean): readonly [DeedKind, number] {
  const { outcome, move, interrupted } = attempt;
  if (outcome === null) return interrupted ? ['interrupted', 40] : ['end-not-told', 40];
  if (outcome === 'out') return isLastOut ? ['taken-out', 80] : ['called-out', 85];
  const aim = moveOf(log.content, move)?.aim;
  if (outcome === 'head-sheared' || (outcome === 'set-up-done' && aim === 'head-sheared'))
    return aim === 'head-sheared' ? ['drilled-off', 90] : ['head-came-off', 92];
  return kinds[outcome] ?? ['other-end', 60];
}

/** What several screws or several moves are told of in one sentence by: the same tool, the same move, the same screw. */
function keyOf(kind: DeedKind, { screw, move, outcome }: Attempt, { what }: Way, tool: string): string {
  const parts: Partial<Record<DeedKind, string>> = {
    slipped: tool,
    'tool-broke': tool,
    'tool-jammed': tool,
    'drilled-off': '',
    'taken-out': `${move} ${what ?? ''}`,
    'other-end': `${move} ${what ?? ''} ${outcome} ${screw}`,
    'no-change': screw,
    'turns-free': screw,
  };
  return `${kind} ${parts[kind] ?? `${move} ${what ?? ''}`}`;
}

function deedOf(log: RecordLog, fate: ScrewFate, attempt: Attempt, isOpen: boolean): Deed {
  const lastOut = fate.attempts.findLast(({ outcome }) => outcome === 'out');
  const [kind, weight] = kindOf(log, attempt, fate.stage === 'out' && attempt === lastOut);
  const way = wayOf(log, attempt);
  const at = kind === 'end-not-told' ? attempt.from : (attempt.to ?? attempt.from);
  const thing = log.locale.brief.toolOf(log.content, attempt);
  return {
    ...{ kind, at, weight, from: entriesOf(attempt), ways: [way], thing, tool: attempt.tool },
    subjects: [{ id: fate.id, times: [at] }],
    key: `${keyOf(kind, attempt, way, thing)}${kind === 'taken-out' && isOpen ? ' open' : ''}`,
    ...(kind === 'taken-out' && isOpen && { how: { unaccounted: true } as const }),
    ...(kind === 'other-end' &&
      attempt.outcome !== null && {
        how: {
          outcome: attempt.outcome,
          said: log.locale.entries.outcome(log.content, fate.id, attempt.outcome, attempt),
        },
      }),
  };
}

/** The deeds on one screw, not yet put together with those on others. */
function ofScrew(log: RecordLog, fate: ScrewFate): Deed[] {
  const during = { ...fate, attempts: fate.attempts.filter(({ n }) => !log.isAfterClosing(n)) };
  const after = fate.attempts.filter(({ n }) => log.isAfterClosing(n));
  const isOpen = log.view.screws[fate.id]?.metal.closes === 'open';
  const common = { ways: [{ move: 'turn-out' as const }] };
  const told: Deed[] = after.map((attempt) => ({
    ...{ kind: 'told-after', at: attempt.from, weight: 75, from: entriesOf(attempt), ways: [], key: 'told-after' },
    subjects: [{ id: fate.id, times: [attempt.from] }],
    count: 1,
  }));
  if (!isPlain(during, isOpen))
    return [...during.attempts.map((attempt) => deedOf(log, during, attempt, isOpen)), ...told];
  const last = during.attempts.at(-1) as Attempt;
  const at = last.to ?? last.from;
  return [
    {
      ...{ ...common, kind: 'turned-out', at, weight: 80, key: 'turned-out' },
      from: during.attempts.flatMap(entriesOf),
      subjects: [{ id: fate.id, times: [at] }],
    },
    ...told,
  ];
}

/** What was done on the screws, in order of time. */
export const screwDeeds = (log: RecordLog, screws: readonly ScrewFate[]): Deed[] =>
  screws.flatMap((fate) => ofScrew(log, fate));
