import type { ToolId } from '../../../content/ids.ts';
import type { RoomTool } from '../../../machines/case.context.ts';
import type { Folded } from '../../../machines/folded.ts';
import type { Readiness } from '../../../machines/readiness.ts';
import type { App } from '../app.ts';
import { unknownWord } from '../unknown-words.ts';
import { listed, ranges } from '../../format/lists.ts';
import { closedByAbsence, deadEndGroups, toMeasure, unsaidGroups } from './tool-groups.ts';

/** A tool that stands in the room with its measures in words; empty when it has none. */
export function measuresOf({ w }: App, { fits, size, outer, inner }: RoomTool): string {
  return [
    ...(fits ? [w('briefing.tool-fits', { diameters: listed(fits) })] : []),
    ...(size !== undefined ? [w('briefing.tool-size', { size })] : []),
    ...(inner !== undefined ? [w('briefing.tool-inner', { inner })] : []),
    ...(outer !== undefined ? [w('briefing.tool-outer', { outer })] : []),
  ].join(', ');
}

/** What cannot be said, a sentence for all screws alike. */
export const unsaidWords = (app: App, ready: Readiness | null): string[] =>
  unsaidGroups(ready).map(({ screws, stage, unknown }) =>
    app.w(stage === 'seated' ? 'briefing.unsaid-seated' : 'briefing.unsaid', {
      screws: ranges(screws),
      stage: app.content().phrases.stages[stage].label,
      unknown: listed(unknown.map((one) => unknownWord(app, one))),
    }),
  );

/** What to look at or read off first, and whose stages it clears. */
export const measureWords = (app: App, ready: Readiness | null): string[] =>
  toMeasure(ready).map(({ unknown, screws }) =>
    app.w('briefing.to-measure', { what: unknownWord(app, unknown), screws: ranges(screws) }),
  );

/** Who holds the plate that others wait for, in one line. */
export function heldWords({ w, open }: App, ready: Readiness | null): string[] {
  const holders = new Set((ready?.heldBy ?? []).flatMap(({ by }) => by));
  const by = [...(open()?.folded.screws.keys() ?? [])].filter((id) => holders.has(id));
  return by.length > 0 ? [w('briefing.held', { by: ranges(by) })] : [];
}

/** What the absence of a tool closes, by tool; a tool that closes nothing is not named. */
export const closesWords = ({ w, content }: App, folded: Folded): ReadonlyMap<ToolId, string> =>
  new Map(
    [...closedByAbsence(folded)].map(([tool, moves]) => [
      tool,
      w('briefing.closes', { moves: listed(moves.map((move) => content().phrases.moves[move].glance)) }),
    ]),
  );

/** Dead ends in words; a screw that nothing here turns even as it sits is told apart. */
export const deadEndWords = (
  { w, content }: App,
  ready: Readiness | null,
  as: 'briefing.dead-end' | 'plan.brief.dead-end' = 'briefing.dead-end',
): string[] =>
  deadEndGroups(ready).map(({ stage, screws, opensWith }) => {
    const tools = listed(opensWith.map((id) => content().phrases.tools[id].label)) || w('briefing.nothing-known');
    const values = { screws: ranges(screws), stage: content().phrases.stages[stage].label, tools };
    return w(stage === 'seated' ? 'briefing.no-driver' : as, values);
  });
