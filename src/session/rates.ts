/** The rates that a forecast on this device rests on: the released ones, or what was put in their place here. */
import * as v from 'valibot';
import type { MoveId, Outcome } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import type { Fault } from '../../machines/entry.ts';
import { ownRates } from '../../machines/across/rates.ts';
import { readRates, type OwnRate } from '../../machines/own-rates.ts';
import { createKept, type Kept } from '../device/kept.ts';
import type { Sent } from '../device/share.ts';
import { readJson } from '../read-json.ts';
import { acrossOf } from './across.ts';
import type { Session } from './session.ts';

/** A share, 0–1, for every screw of a move, with its status in words. */
export interface OneRate {
  move: MoveId;
  outcome: Outcome;
  value: number;
  status: string;
}

export interface RatesInUse {
  /** Shares in the place of the released ones, each with its status in words; the file of `forecast --rates`. */
  rates: readonly OwnRate[];
  from: 'released' | 'device';
}

let kept: Kept<readonly unknown[]> | undefined;
const keptRates = () =>
  (kept ??= createKept<readonly unknown[]>(
    'rates',
    (stored) => (v.is(v.array(v.unknown()), stored) ? stored : null),
    [],
  ));

/** Rates that the content understands; one row that makes no sense leaves all of them out. */
const understood = (rows: readonly unknown[], content: Content): readonly OwnRate[] => {
  const read = readRates(rows, content);
  return 'rates' in read ? read.rates : [];
};

/** The rates in use for the case that is open, or for new ones. Reactive. */
export function ratesInUse(app: { content: () => Content }): RatesInUse {
  const rates = understood(keptRates().value(), app.content());
  return { rates, from: rates.length > 0 ? 'device' : 'released' };
}

/**
 * What a forecast on this device rests on: what was put in the place of the released rates by hand, and for all other
 * moves the released rates brought up to date by the department's own counts. Reactive.
 */
export function forecastRates(app: { content: () => Content; session: Session }): readonly OwnRate[] {
  const { rates } = ratesInUse(app);
  const counted = ownRates(acrossOf(app.session).numbers()?.rates ?? [], app.content());
  return [...rates, ...counted.filter(({ move }) => !rates.some((row) => row.move === move))];
}

/** Puts rates in the place of those kept on this device. */
export const keepRates = (rates: readonly OwnRate[]) => keptRates().keep(rates);

/**
 * One share more on this device, or in the place of an earlier one; the others stay as they are kept.
 *
 * @returns whether it was kept, or the faults of the shares as they would be then
 */
export async function keepRate(row: OneRate, content: Content): Promise<Sent | { faults: Fault[] }> {
  const faults: Fault[] = [];
  const sent = await keptRates().change((rows) => {
    const next = withRate(understood(rows, content), row, content);
    if ('rates' in next) return next.rates;
    faults.push(...next.faults);
    return rows;
  });
  return faults.length > 0 ? { faults } : sent;
}

/**
 * The rates with one share more, or put in the place of an earlier one.
 *
 * @param value 0–1
 * @returns the rates, or the fault: shares of one move may not add up to more than 1
 * @example withRate([], 'turn-out', 'out', 0.9, 'ours', content) // { rates: [{ move: 'turn-out', … }] }
 */
export function withRate(
  rates: readonly OwnRate[],
  row: OneRate,
  content: Content,
): { rates: OwnRate[] } | { faults: Fault[] } {
  const others = rates.filter(({ move, outcome }) => move !== row.move || outcome !== row.outcome);
  return readRates([...others, row], content);
}

/** What a file of rates says, or every fault of it with its path. */
export function readRatesFile(bytes: Uint8Array, content: Content): { rates: OwnRate[] } | { faults: Fault[] } {
  const read = readJson(bytes);
  return 'faults' in read ? { faults: [...read.faults] } : readRates(read.value, content);
}

/** The rates as the file that is brought in again, and that `forecast --rates` reads. */
export const ratesFile = (rates: readonly OwnRate[]) => ({
  name: 'counterturn-rates.json',
  type: 'application/json',
  content: `${JSON.stringify(rates, null, 1)}\n`,
});
