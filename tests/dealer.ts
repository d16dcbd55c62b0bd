/**
 * Deals outcomes to a plan by known rates, apart from the forecast: the log itself says which move is open, the rates and
 * the patient's own chance how it ends. Invented throughout.
 */
import type { MoveId, Outcome } from '../content/ids.ts';
import type { Content } from '../content/types.ts';
import type { Entry } from '../machines/entry.ts';
import { fold } from '../machines/fold.ts';
import { view } from '../machines/view.ts';

/** A screw on its way: what the log offers next, and where each outcome led. */
interface Node {
  move: MoveId | null;
  out: boolean;
  rate: Content['rates']['moves'][number] | undefined;
  next: Map<string, Node>;
}

/** A number between low and high, most often mid. */
export function between({ low, mid, high }: { low: number; mid: number; high: number }, q: number): number {
  const turn = (mid - low) / (high - low);
  return q < turn
    ? low + Math.sqrt(q * (high - low) * (mid - low))
    : high - Math.sqrt((1 - q) * (high - low) * (high - mid));
}

export interface Dealt {
  out: boolean;
  minutes: number;
  /** Each move with its end, the look after a slip among them; entries without `n` and times. */
  history: object[];
}

/** The removal of a screw, by a patient's chance at a move of such a mean. */
export type Deal = (chance: (mean: number) => number) => Dealt;

const at = '2026-03-02T09:00:00Z';

/**
 * Deals the removals of screw 1 of a plan.
 *
 * @param plan its log; screw 1 is played over and over, so that none of the others is ever out
 * @param random 0–1
 */
export function dealer(content: Content, plan: readonly Entry[], random: () => number): Deal {
  const facts = plan.find((entry) => entry.type === 'screw-listed') as Extract<Entry, { type: 'screw-listed' }>;
  const base = [...plan, { n: 0, at, logged: at, type: 'work-started' } as Entry];
  const nodes = new Map<string, Node>();
  const nodeAt = (history: readonly object[]): Node => {
    const log = [...base, ...history.map((fields) => ({ n: 0, at, logged: at, ...fields }) as Entry)];
    const screw = view(
      fold(
        log.map((entry, i) => ({ ...entry, n: i + 1 })),
        content,
      ),
    ).screws['1'];
    // A piece is reamed once: the sleeve follows, or what else is open.
    const reamed = history.some((fields, i) => {
      const end = history[i + 1] as { outcome?: Outcome } | undefined;
      const isReam = 'move' in fields && fields.move === 'hollow-ream';
      return isReam && end?.outcome !== 'slipped' && end?.outcome !== 'tool-broke';
    });
    const skips = (id: string) => id === 'leave-in' || (id === 'hollow-ream' && reamed);
    const move = screw?.offered.find((offer) => !skips(offer.move))?.move ?? null;
    const rate = content.rates.moves.find(
      (row) =>
        row.move === move &&
        (!row.when || (row.when.locking === facts.locking && (facts.diameter ?? 0) <= (row.when.upTo ?? Infinity))),
    );
    const node: Node = {
      move: screw?.stage === 'out' ? null : move,
      out: screw?.stage === 'out',
      rate,
      next: new Map(),
    };
    // Two ways to the same screw, with the same moves open and closed, as many slips and turns, go on alike.
    const turns = history.filter((fields) => 'move' in fields && fields.move === 'turn-out').length;
    const key = JSON.stringify([
      screw?.stage,
      screw?.offered.map((one) => one.move),
      screw?.withdrawn,
      screw?.slips,
      turns,
    ]);
    const same = nodes.get(key);
    if (!same) nodes.set(key, node);
    return same ?? node;
  };
  const first = nodeAt([]);
  const keeps = content.limits.slipKeeps.value;
  return (chance) => {
    const history: object[] = [];
    let minutes = 0;
    let slips = 0;
    let node = first;
    while (node.move && node.rate) {
      // The patient's own chance of coming out; a slip that went before a driver move halves it once more.
      const row = node.rate.outcomes;
      const mean = row.find((one) => one.outcome === 'out')?.value ?? 0;
      const turns = content.moves.find(({ id }) => id === node.move);
      const before = turns?.turnsInRecess ? Math.max(0, slips - (turns.fits.includes('seated') ? 0 : 1)) : 0;
      const whole = mean > 0 ? chance(mean) : 0;
      let draw = random();
      let outcome: Outcome = 'no-change';
      if (draw < whole) outcome = random() < keeps ** before ? 'out' : 'slipped';
      else {
        draw = random() * (1 - mean);
        outcome = row.find((one) => one.outcome !== 'out' && (draw -= one.value) < 0)?.outcome ?? 'no-change';
      }
      if (outcome === 'slipped' && turns?.turnsInRecess) slips++;
      const broke = outcome === 'shank-broke' && { reachable: random() < content.rates.shankReachable.value };
      history.push(
        { type: 'move-started', screw: '1', move: node.move },
        { type: 'move-ended', screw: '1', outcome, ...broke },
        ...(outcome === 'slipped' ? [{ type: 'reassessed', screw: '1', checks: {} }] : []),
      );
      minutes += between(node.rate.minutes, random());
      const key = `${outcome} ${broke ? broke.reachable : ''}`;
      const next = node.next.get(key) ?? nodeAt(history);
      node.next.set(key, next);
      node = next;
    }
    return { out: node.out, minutes, history };
  };
}
