/** How the figures are put in words; every share as "7 of 9", never a bare per cent. */
import type { Kind } from '../../../machines/across/tally.ts';
import type { Spread } from '../../../machines/across/intervals.ts';
import type { Share } from '../../../machines/across/report.ts';
import type { Content, Rate } from '../../../content/types.ts';
import { figure, millimetres, percent } from '../../format/figures.ts';
import type { Messages } from '../../format/messages.ts';

/** Minutes to a tenth below ten, whole above: no false precision. */
export const minutes = (value: number): string => figure(value < 10 ? Math.round(value * 10) / 10 : value.toFixed(0));

/** Values from which an interquartile range is given. */
const withQuartiles = 4;

/** The median, with the interquartile range once there are enough values. */
export function minutesWords(w: Messages, spread: Spread | null): string {
  if (spread === null) return w('across.minutes-none');
  const median = minutes(spread.median);
  return spread.n < withQuartiles
    ? w('across.minutes-few', { median, n: spread.n })
    : w('across.minutes', { median, q1: minutes(spread.q1), q3: minutes(spread.q3) });
}

/** A share as it is spoken, with its interval. */
export const spoken = (w: Messages, { count, of, low, high }: Share): string =>
  low === null || high === null
    ? w('across.bar-none')
    : w('across.bar', { count, of, share: percent(count / of), low: percent(low), high: percent(high) });

/** A kind of screw in words. */
export const kindWords = (w: Messages, { diameter, locking, material }: Omit<Kind, 'move' | 'stage'>): string =>
  [millimetres(diameter), w(locking ? 'across.locking' : 'across.not-locking'), w(`across.material.${material}`)].join(
    ', ',
  );

/** Why a screw was left in, by the key of the offered reason. */
export const reasonWords = (w: Messages, reason: string): string =>
  reason === 'own-words' ? w('across.own-words') : w(`leave.reason.${reason}`);

/** What a figure of the content rests on. */
export const cited = (content: Content, id: string): string => content.sources.find((row) => row.id === id)?.cite ?? id;

/** How many cases were counted, in words. */
export const countedWords = (w: Messages, cases: number): string =>
  cases === 1 ? w('across.counted-one') : w('across.counted', { count: cases });

/** The kind of screw that a row of rates is for, in brackets; nothing for a row for all. */
export const rateKind = (w: Messages, when: Rate['when']): string =>
  when
    ? ` (${[w(when.locking ? 'across.locking' : 'across.not-locking'), ...(when.upTo ? [w('across.small', { size: when.upTo })] : [])].join(', ')})`
    : '';
