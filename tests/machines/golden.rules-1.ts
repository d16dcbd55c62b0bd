/** The state of a golden case as rules 1 printed it. */
import { expect } from 'vitest';
import type { Folded } from '../../machines/folded.ts';
import type { Seals } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import type { MetalAccount, ScrewView } from '../../machines/view.types.ts';

/** An account as rules 1 gave it; `assumed` is what it is told apart by where it does not close. */
function accountOfRules1({ destroyed: _, closes, ...lengths }: MetalAccount, assumed: boolean) {
  if (closes !== 'open') expect(assumed).toBe(closes === 'assumed');
  return { ...lengths, assumed };
}

/** A screw as rules 1 printed it: nobody was asked about its length, and nothing said whether it can be come back to. */
function screwOfRules1({ mayDefer: _, lengthAsked, ...screw }: ScrewView, assumed: boolean) {
  expect(lengthAsked).toBeNull();
  return { ...screw, metal: accountOfRules1(screw.metal, assumed) };
}

export type StateOfRules1 = { screws: Record<string, { metal: { assumed: boolean } }> };

function limitsInForce({ case: { context } }: Folded) {
  const { room, tourniquetLimit, theatreMinutes } = context;
  return { ...room.limits, tourniquet: tourniquetLimit, theatre: theatreMinutes };
}

/** The state as rules 1 printed it, but for what only later rules know. */
export function printedByRules1(folded: Folded, seals: Seals, stored: StateOfRules1) {
  const { impossibleTimes, conflicts, parts, stopped, limits, screws, toolTips, ...rest } = view(
    folded,
    undefined,
    seals,
  );
  expect([impossibleTimes, conflicts, parts, stopped]).toEqual([[], [], {}, null]);
  expect(limits).toEqual(limitsInForce(folded));
  const { phase, called, ...more } = rest;
  const was = (id: string) => stored.screws[id]?.metal.assumed === true;
  return {
    ...{ phase, called },
    screws: Object.fromEntries(Object.entries(screws).map(([id, screw]) => [id, screwOfRules1(screw, was(id))])),
    toolTips: toolTips.map(({ destroyed: _d, closes: _c, ...tip }) => tip),
    ...more,
  };
}
