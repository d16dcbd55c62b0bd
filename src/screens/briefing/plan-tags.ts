/** What stands at each screw of the plan: a dead end, what nobody can say, what nobody entered. Pure. */
import { workingStages } from '../../../content/ids.ts';
import type { Readiness } from '../../../machines/readiness.ts';
import type { ScrewContext } from '../../../machines/screw.context.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import type { PlanTag } from '../../pictures/PlanPicture.tsx';
import type { App } from '../app.ts';

/**
 * The tag of a screw, the worst alone: no way on from a stage, the first that would come; then what nobody can say; then
 * what nobody entered of it.
 *
 * @returns undefined where nothing of it is open, or while nothing was worked out and all of it was entered
 * @example tagOf(app, null, wholeScrew) // undefined
 */
export function tagOf({ w }: Pick<App, 'w'>, ready: Readiness | null, screw: ScrewContext): PlanTag | undefined {
  if (!isWorking(screw.stage)) return undefined;
  const inOrder = <T extends { screw: string; stage: (typeof workingStages)[number] }>(all: readonly T[]) =>
    workingStages.flatMap((stage) => all.filter((one) => one.screw === screw.id && one.stage === stage));
  const dead = inOrder(ready?.deadEnds ?? []);
  if (dead[0]) {
    const word = w(`briefing.tag.${dead[0].stage}`);
    return { kind: 'dead', word, spoken: w('briefing.tag.dead') };
  }
  const unsaid = inOrder(ready?.cannotSay ?? []);
  if (unsaid[0])
    return {
      kind: 'unsaid',
      word: unsaid[0].stage === 'seated' ? w('briefing.tag.turning') : w(`briefing.tag.${unsaid[0].stage}`),
      spoken: w('briefing.tag.unsaid'),
    };
  const missing = missingOf(screw);
  if (!missing[0]) return undefined;
  return {
    kind: 'missing',
    word: w(`briefing.ask.${missing[0]}`),
    spoken: w('briefing.not-recorded'),
  };
}

/** Facts of a screw that were answered with "not known". */
export function missingOf({
  facts,
}: Pick<ScrewContext, 'facts'>): ('size' | 'drive' | 'material' | 'cortices' | 'length')[] {
  const isAssumed = (fact: 'locking' | 'cortices') => facts.assumed?.includes(fact) ?? false;
  return [
    ...(facts.diameter === null || isAssumed('locking') ? (['size'] as const) : []),
    ...(facts.drive === 'unknown' ? (['drive'] as const) : []),
    ...(facts.material === 'unknown' ? (['material'] as const) : []),
    ...(isAssumed('cortices') ? (['cortices'] as const) : []),
    ...(facts.length === null ? (['length'] as const) : []),
  ];
}
