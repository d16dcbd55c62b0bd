/**
 * Which tool to buy next: a weighted cover of the dead ends of many plans, tool by tool and size by size, greedily. A set
 * of tools that is wanted together is one step; at each the one that closes most for each tool to buy.
 *
 * Where one tool is enough for every dead end, the first k tools close at least 1 − 1/e = 63 % of what the best k would
 * (Nemhauser, Wolsey & Fisher 1978, Math Program 14:265, from memory). Where several are wanted together no such bound
 * holds: of 200 small sets the worst step closed 70 % of what the best as many tools would, the mean 99.5 %
 * (`tests/machines/across-buy.test.ts`).
 */
import type { ToolId } from '../../content/ids.ts';
import { itemKey, type Item } from './needs.ts';

/** Dead ends that the same sets open. */
export interface Want {
  /** Any one of these opens them. */
  sets: readonly (readonly Item[])[];
  /** How often they are to be expected: the sum of the chances that a screw comes there. */
  weight: number;
  deadEnds: number;
}

/** What something closes. */
export interface Closes {
  deadEnds: number;
  /** How often a screw is to be expected there. */
  weight: number;
}

/** One step of the list: what to buy, what that closes, and what is closed with all before it. */
export interface Purchase extends Closes {
  tools: Item[];
  sum: Closes;
}

const nothing: Closes = { deadEnds: 0, weight: 0 };
const plus = (a: Closes, b: Closes): Closes => ({ deadEnds: a.deadEnds + b.deadEnds, weight: a.weight + b.weight });

/** What is closed by the tools that are had. */
const closedBy = (wants: readonly Want[], had: ReadonlySet<string>): Closes =>
  wants
    .filter(({ sets }) => sets.some((set) => set.every((one) => had.has(itemKey(one)))))
    .reduce<Closes>(plus, nothing);

/** Less than this is no difference between two weights that were summed in another order. */
const alike = 1e-12;

/** In the order of a release's list of tools, small sizes first. */
const byTool =
  (tools: readonly ToolId[]) =>
  (a: Item, b: Item): number =>
    tools.indexOf(a.tool) - tools.indexOf(b.tool) || (a.size ?? 0) - (b.size ?? 0);

/**
 * The list, from the first purchase to the last that closes anything.
 *
 * @param tools whose order decides between equals
 * @returns empty where there is nothing to close
 * @example buyList([{ sets: [[gouge]], weight: 0.2, deadEnds: 1 }], ['gouge'])[0]?.tools // [gouge]
 */
export function buyList(wants: readonly Want[], tools: readonly ToolId[]): Purchase[] {
  const order = byTool(tools);
  const had = new Set<string>();
  const list: Purchase[] = [];
  let rest = [...wants];
  let sum = nothing;
  for (;;) {
    const sets = new Map<string, Item[]>();
    for (const want of rest)
      for (const set of want.sets) {
        const lacking = set.filter((one) => !had.has(itemKey(one))).sort(order);
        if (lacking.length > 0) sets.set(lacking.map(itemKey).join(', '), lacking);
      }
    let best: Purchase | null = null;
    for (const set of [...sets.values()].sort((a, b) => a.length - b.length || compare(order, a, b))) {
      const closes = closedBy(rest, new Set([...had, ...set.map(itemKey)]));
      if (closes.weight / set.length <= (best ? best.weight / best.tools.length : 0) + alike) continue;
      best = { tools: set, ...closes, sum: plus(sum, closes) };
    }
    if (!best) return list;
    for (const one of best.tools) had.add(itemKey(one));
    sum = best.sum;
    list.push(best);
    rest = rest.filter(({ sets: of }) => !of.some((set) => set.every((one) => had.has(itemKey(one)))));
  }
}

function compare(order: ReturnType<typeof byTool>, a: readonly Item[], b: readonly Item[]): number {
  const steps = a.map((one, i) => order(one, b[i] as Item));
  return steps.find((step) => step !== 0) ?? 0;
}

/**
 * What each tool closes by itself, most first.
 *
 * @example closedAlone([], ['gouge']) // []
 */
export function closedAlone(wants: readonly Want[], tools: readonly ToolId[]): (Item & Closes)[] {
  const order = byTool(tools);
  const items = new Map(wants.flatMap(({ sets }) => sets.flat().map((one) => [itemKey(one), one] as const)));
  return [...items.values()]
    .map((one) => ({ ...one, ...closedBy(wants, new Set([itemKey(one)])) }))
    .filter(({ deadEnds }) => deadEnds > 0)
    .sort((a, b) => (Math.abs(b.weight - a.weight) > alike ? b.weight - a.weight : order(a, b)));
}
