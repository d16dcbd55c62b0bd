/** What a rehearsal says in words. Pure. */
import type { ToolId } from '../../../content/ids.ts';
import { moveOf } from '../../../content/moves.ts';
import type { Content } from '../../../content/types.ts';
import type { Deal } from '../../../machines/deal.ts';
import { readiness } from '../../../machines/readiness.ts';
import type { HoldMet, Lack, Rehearsed } from '../../../machines/rehearsed.ts';
import { listed, ranges } from '../../format/lists.ts';
import type { Otherwise } from '../../session/rehearsal.ts';
import type { OpenCase } from '../../session/session.ts';
import type { App } from '../app.ts';
import { gapsOf } from '../briefing/plan.ts';
import { measureWords } from '../briefing/tool-words.ts';

/** An end as the surgeon would call it. */
export function endWords({ phrases }: Content, { outcome, reachable }: Pick<Deal, 'outcome' | 'reachable'>): string {
  if (outcome !== 'shank-broke' || reachable === undefined) return phrases.outcomes[outcome].label;
  return reachable ? phrases.shankBroke.reachable : phrases.shankBroke.notReachable;
}

/** A tool that was missing, with the size that the screw asks for; that it is not known is said. */
function sizedTool({ w, content }: App, tool: ToolId, { move, facts }: Lack): string {
  const { label } = content().phrases.tools[tool];
  const measures = content().tools.find(({ id }) => id === tool)?.measures ?? [];
  const sized = (size: string) => w('rehearsal.tool-sized', { tool: label, size });
  if (tool.startsWith('driver-')) {
    const isLarger = moveOf(content(), move).needs.every((group) => !('driver' in group) || group.driver !== 'matched');
    // Of another form than the recess any size may do.
    if (isLarger && tool !== `driver-${facts.drive}`) return label;
    if (facts.driveSize === undefined) return sized(w('rehearsal.size-unknown'));
    return sized(w(isLarger ? 'rehearsal.larger' : 'briefing.tool-size', { size: facts.driveSize }));
  }
  if (!measures.includes('fits')) return label;
  return sized(
    facts.diameter === null
      ? w('rehearsal.size-unknown')
      : w('briefing.tool-fits', { diameters: listed([facts.diameter]) }),
  );
}

/** The first tool that was missing and where, and where nothing was open; or that none was. */
export function lackWords(app: App, { lack, deadEnds, brought }: Rehearsed): string[] {
  const { w } = app;
  const { stages, moves, tools } = app.content().phrases;
  const named = (ids: readonly ToolId[]) => listed(ids.map((id) => tools[id].label));
  const first = lack
    ? [
        w('rehearsal.lack-tool', {
          tools: listed(lack.tools.map((tool) => sizedTool(app, tool, lack))),
          screw: lack.screw,
          stage: stages[lack.stage].glance,
          move: moves[lack.move].label,
        }),
      ]
    : [w('rehearsal.lack-none')];
  const ends = deadEnds.map(({ screw, stage, missing }) => {
    const fill = { screw, stage: stages[stage].glance };
    return missing.length > 0
      ? w('rehearsal.dead-end-missing', { ...fill, tools: named(missing) })
      : w('rehearsal.dead-end', fill);
  });
  return [...first, ...ends, ...(brought.length > 0 ? [w('rehearsal.brought', { tools: named(brought) })] : [])];
}

/** A hold that was met, and how it was answered. */
export function holdWords({ w, content }: App, { hold, screw, answer, reason }: HoldMet): string {
  const fill = {
    hold: content().phrases.holds[hold].label,
    answer: answer === 'standing' ? w('rehearsal.standing') : w(`across.answer.${answer}`),
  };
  const said = screw === null ? w('rehearsal.hold', fill) : w('rehearsal.hold-screw', { ...fill, screw });
  return reason === undefined ? said : w('rehearsal.hold-reason', { said, reason });
}

const measures: readonly string[] = ['size', 'drive', 'length', 'cortices', 'bone'].map((one) => `briefing.gap.${one}`);

/** What nobody measured: in the plan, and of what came out in the rehearsal. */
export function unmeasuredWords(app: App, open: OpenCase, { unmeasured, bores }: Rehearsed): string[] {
  const { w } = app;
  const { room } = open.folded.case.context;
  const isAssumed =
    room.bone?.source === 'assumed' || Object.values(room.boneAt).some(({ source }) => source === 'assumed');
  return [
    ...gapsOf(open)
      .filter(({ key }) => measures.includes(key))
      .map(({ key, screws }) => (screws.length > 0 ? w(key, { screws: ranges(screws) }) : w(key))),
    ...(isAssumed ? [w('briefing.assumed.bone')] : []),
    ...measureWords(app, readiness(open.folded)),
    ...(unmeasured.length > 0 ? [w('rehearsal.unmeasured-out', { screws: ranges(unmeasured) })] : []),
    ...(bores.length > 0 ? [w('rehearsal.unmeasured-bores', { screws: ranges(bores) })] : []),
  ];
}

/** An end that was entered otherwise than it was dealt. */
export const otherwiseWords = ({ w, content }: App, { screw, move, dealt, entered }: Otherwise): string =>
  w('rehearsal.otherwise-line', {
    screw,
    move: content().phrases.moves[move].label,
    dealt: endWords(content(), dealt),
    entered: content().phrases.outcomes[entered].label,
  });
