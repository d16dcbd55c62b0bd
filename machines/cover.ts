/** Choosing tools: the fewest that open what is closed. */
import { everyId } from '../content/catalog.ts';
import type { ToolId } from '../content/ids.ts';

/** The place of a tool in the list of a release. */
export type Order = (tool: ToolId) => number;

/** Fewer tools first; among equals the first in the order of the tool ids. */
export function compareSets(order: Order, a: readonly ToolId[], b: readonly ToolId[]): number {
  const steps = a.map((tool, i) => order(tool) - order(b[i] as ToolId));
  return a.length - b.length || (steps.find((step) => step !== 0) ?? 0);
}

/**
 * The smallest union that holds one way of every list.
 *
 * @param tools whose order decides among equals
 * @example smallestCover([[['gouge'], ['mallet']], [['mallet']]]) // ['mallet']
 */
export function smallestCover(
  lists: readonly (readonly (readonly ToolId[])[])[],
  tools: readonly ToolId[] = everyId().tools,
): ToolId[] {
  const order: Order = (tool) => tools.indexOf(tool);
  let best: ToolId[] | null = null;
  const search = (chosen: readonly ToolId[], rest: readonly (readonly (readonly ToolId[])[])[]): void => {
    if (best && chosen.length > best.length) return;
    const open = rest.filter((ways) => !ways.some((way) => way.every((tool) => chosen.includes(tool))));
    if (open.length === 0) {
      const sorted = [...chosen].sort((a, b) => order(a) - order(b));
      if (!best || compareSets(order, sorted, best) < 0) best = sorted;
      return;
    }
    const [first, ...others] = [...open].sort((a, b) => a.length - b.length);
    for (const way of first as readonly (readonly ToolId[])[]) search([...new Set([...chosen, ...way])], others);
  };
  search([], lists);
  return best ?? [];
}
