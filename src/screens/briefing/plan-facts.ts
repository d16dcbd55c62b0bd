/** Published facts that apply to the open plan, each with its status. */
import type { Content } from '../../../content/types.ts';
import type { Folded } from '../../../machines/folded.ts';
import { ageOf } from '../../format/age.ts';
import type { Messages } from '../../format/messages.ts';
import { ranges } from '../../format/lists.ts';

/** Up to this diameter, mm, a locking screw counts with the small ones, as in the series of Bae et al. 2009. */
const smallLocking = 3.5;
/** Time in the body from which a fact of its own is listed: common practice, no source. */
const longMonths = 18;

/**
 * Facts that apply, in the order of the plan: the recess, what binds, how often, how long in, whose metal, how long to
 * plan for.
 *
 * @returns sentences that end with their source or status
 * @example planFacts(fold([], content), w) // the line on short anaesthetics alone
 */
export function planFacts({ content, screws, case: { context } }: Folded, w: Messages): string[] {
  const all = [...screws].map(([id, screw]) => ({ id, ...screw.context.facts }));
  const which = (test: (screw: (typeof all)[number]) => boolean) => all.filter(test).map(({ id }) => id);
  const soft = which(({ drive }) => drive === 'hexagonal' || drive === 'cruciform' || drive === 'slotted');
  const locking = which((screw) => screw.locking);
  const small = which((screw) => screw.locking && screw.diameter !== null && screw.diameter <= smallLocking);
  const large = which((screw) => screw.locking && screw.diameter !== null && screw.diameter > smallLocking);
  const opened = context.room.opened;
  const months = opened?.placedMonthsAgo;
  return [
    ...(soft.length > 0 ? [w('plan.fact-of', { screws: ranges(soft), fact: w('drive-forms') })] : []),
    ...(locking.length > 0 ? [w('plan.fact-of', { screws: ranges(locking), fact: w('locking-binds') })] : []),
    ...(small.length > 0 ? [sourced(content, 'stripped-locking-35-bae-2009', w)] : []),
    ...(large.length > 0 ? [sourced(content, 'stripped-locking-50-bae-2009', w)] : []),
    ...(months !== undefined && months > longMonths ? [w('plan.fact-long', { age: ageOf(w, months) })] : []),
    ...(opened?.placedBy === 'other-team' ? [w('plan.fact-other-team')] : []),
    w('short-anaesthetic'),
  ];
}

/** A row of the sources as a sentence. */
function sourced(content: Content, id: string, w: Messages): string {
  const row = content.sources.find((source) => source.id === id);
  if (!row) throw new Error(`no source ${id}`);
  return w('plan.fact-sourced', { what: row.what, cite: row.cite });
}
