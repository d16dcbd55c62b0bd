/** A department's own rates: what stands in the place of the released ones, and how a list of them is checked. */
import * as v from 'valibot';
import type { MoveId, Outcome } from '../content/ids.ts';
import { fault, type FaultCode } from '../content/fault.ts';
import { issueFault } from '../content/issue.ts';
import { isObject, pathOfIssue, unknownFields, type Fault } from '../content/shape.ts';
import type { Content, Rate } from '../content/types.ts';

/** A department's own share for one outcome of a move. */
export interface OwnRate {
  move: MoveId;
  /** As in the released rates; `{}` = the row for all other screws; left out = every row of the move. */
  when?: Partial<NonNullable<Rate['when']>>;
  outcome: Outcome;
  value: number;
  status?: string;
  /** Tries of one's own that the share was counted in, as far as it was; left out: nobody counted. */
  of?: number;
}

/** Do two rows speak of the same kind of screw? */
export const sameWhen = (a: OwnRate['when'], b: OwnRate['when']): boolean =>
  a?.locking === b?.locking && a?.upTo === b?.upTo;

const needed = {
  move: 'no-rates',
  outcome: 'outcome',
  value: 'share',
} as const;

/** The message of a field that is not there is that of a field that is wrong. */
const message = ({ path }: v.ObjectIssue) => needed[path?.[0]?.key as keyof typeof needed];

const rowShape = (released: ReadonlyMap<unknown, readonly Rate[]>, outcomes: readonly Outcome[]) =>
  v.object(
    {
      move: v.custom<MoveId>((move) => released.has(move), needed.move),
      when: v.optional(v.unknown()),
      outcome: v.picklist(outcomes, needed.outcome),
      value: v.pipe(v.number(needed.value), v.minValue(0, needed.value), v.maxValue(1, needed.value)),
      status: v.optional(v.string('text')),
      of: v.optional(v.pipe(v.number('number'), v.minValue(0, 'number'))),
    },
    message,
  );

/** In the order in which their faults are named. */
const fields = ['move', 'when', 'outcome', 'value', 'status', 'of'];

function byMove(rates: readonly Rate[]): Map<unknown, Rate[]> {
  const rows = new Map<unknown, Rate[]>();
  for (const rate of rates) rows.set(rate.move, [...(rows.get(rate.move) ?? []), rate]);
  return rows;
}

/**
 * Checks a department's own rates: a list of `{ move, when?, outcome, value, status?, of? }`, the values of a move, or of
 * one of its kinds of screw, adding up to at most 1.
 *
 * @example readRates([{ move: 'turn-out', outcome: 'out', value: 2 }], content) // { faults: [{ path: '[0].value', … }] }
 */
export function readRates(value: unknown, content: Content): { rates: OwnRate[] } | { faults: Fault[] } {
  if (!Array.isArray(value)) return { faults: [fault('file', 'list')] };
  const released = byMove(content.rates.moves);
  const shape = rowShape(released, content.ids.outcomes);
  const faults: Fault[] = [];
  const sums = new Map<string, number>();
  const seen = new Set<string>();
  /** Moves given with a kind of screw somewhere in the list, and without. */
  const [withKind, without] = [true, false].map(
    (wanted) =>
      new Set(value.filter((row) => isObject(row) && !!row.when === wanted).map(({ move }) => move as unknown)),
  ) as [Set<unknown>, Set<unknown>];
  value.forEach((row: unknown, i) => {
    const found = (key: string, code: FaultCode) => faults.push(fault(`[${i}]${key}`, code));
    if (!isObject(row)) return void found('', 'object');
    const issues = v.safeParse(shape, row).issues ?? [];
    const byField = new Map(issues.map((issue) => [pathOfIssue(issue), issueFault('', issue).code]));
    const { when } = row;
    const kinds = released.get(row.move) ?? [];
    if (when !== undefined && !(isObject(when) && kinds.some((rate) => sameWhen(when, rate.when))))
      byField.set('when', 'kind');
    faults.push(...unknownFields(row, fields, `[${i}]`));
    for (const key of fields) {
      const code = byField.get(key);
      if (code !== undefined) found(`.${key}`, code);
      // Nothing more can be said of a row whose kind of screw or share is not known.
      if (code !== undefined && (key === 'when' || key === 'value')) return;
    }
    const kind = `${String(row.move)} ${isObject(when) ? JSON.stringify([when.locking, when.upTo]) : 'all'}`;
    const key = `${kind} ${String(row.outcome)}`;
    if (seen.has(key)) found('', 'twice');
    seen.add(key);
    if ((when ? without : withKind).has(row.move)) found('.when', 'some-rows');
    const sum = (sums.get(kind) ?? 0) + (row.value as number);
    sums.set(kind, sum);
    if (sum > 1 + 1e-9) found('.value', 'adds-up');
  });
  return faults.length ? { faults } : { rates: value as OwnRate[] };
}
