/** What the second ladder says beside cards and stage: what is not known, what opens if the screw waits, notices. */
import { inSentence } from '../../../content/names.ts';
import type { AnyMoveId, NoticeId } from '../../../content/ids.ts';
import type { IfYouWait, OfferedMove, ScrewView } from '../../../machines/view.types.ts';
import { percent, span } from '../../format/figures.ts';
import type { App } from '../app.ts';
import { openTips } from './tips.ts';

/**
 * What a move rests on that nobody has told, each a short question, a tool's size too; then what slips left of a driver's chance.
 *
 * @example cardMarks(app, { ...offered, unknown: ['headProud'] }) // ['head proud?']
 */
export function cardMarks({ w }: App, { unknown, sizeUnknown, chanceLeft }: OfferedMove): string[] {
  const asked = (unknown ?? []).map((fact) => w(`fact.short.${fact}`));
  return [
    ...asked,
    ...(sizeUnknown ? [w('fact.short.size')] : []),
    ...(typeof chanceLeft === 'number' && chanceLeft < 1
      ? [w('card.chance', { share: Math.round(chanceLeft * 100) })]
      : []),
  ];
}

function tacticWords({ w, content }: App, { tactic, screws = [] }: IfYouWait): string {
  const named = { screws: screws.join(', ') };
  if (tactic.startsWith('tool:')) {
    const tools = content().phrases.tools;
    const tool = tactic.slice('tool:'.length) as keyof typeof tools;
    return w('wait.tool', { tool: tools[tool].label });
  }
  return w(screws.length > 0 ? `wait.${tactic}-named` : `wait.${tactic}`, named);
}

/**
 * What opens if something else comes first, and what it costs beside the first move that is open now; null without such.
 *
 * @example waitWords(app, screw) // 'Take out 2, 4 first: opens grip the shank, ring 3 %, now 9 %'
 */
export function waitWords(app: App, { ifYouWait, offered }: ScrewView): string | null {
  const row = ifYouWait?.[0];
  if (!row) return null;
  const { w, content } = app;
  const now = offered.find(({ move, cortexLost }) => move !== 'leave-in' && cortexLost !== null)?.cortexLost ?? null;
  const cost = { after: percent(row.cortexLost), now: percent(now) };
  const parts = [
    w('wait.opens', {
      first: tacticWords(app, row),
      move: inSentence(content(), content().phrases.moves[row.opens].label),
    }),
    ...(row.cortexLost === null ? [] : [w(now === null ? 'wait.cost' : 'wait.cost-now', cost)]),
    ...(row.sure ? [] : [w('wait.unsure')]),
  ];
  return parts.join(', ');
}

/** A line under the stage; `strong` for what is told, not for what might be. */
export interface StageNote {
  text: string;
  strong: boolean;
}

/**
 * What stands under the stage: the running move, tips that are not found as long as that is so, and, while nothing
 * is asked or running, notices and what opens if the screw waits.
 */
export function stageNotes(app: App, screw: ScrewView | null, running: AnyMoveId | null, isFree: boolean): StageNote[] {
  const { moves, tools } = app.content().phrases;
  const now = running === null ? [] : [app.w('table.now', { move: inSentence(app.content(), moves[running].label) })];
  // While it is asked for in a row of its own, that says it.
  const asked = app.view()?.holds.includes('find-tip') ?? false;
  const tips = (asked ? [] : openTips(app)).map(({ tool, guessed }) =>
    guessed ? app.w('tip.mark-guessed') : app.w('tip.mark', { tool: tools[tool].label }),
  );
  const notices = isFree
    ? [...(screw?.notices ?? []), ...(app.view()?.notices ?? [])].map((notice) => noticeWords(app, notice))
    : [];
  const wait = screw && isFree ? waitWords(app, screw) : null;
  return [
    ...[...now, ...tips, ...notices].map((text) => ({ text, strong: true })),
    ...(wait === null ? [] : [{ text: wait, strong: false }]),
  ];
}

/** What stands before a move or marks it, on one line: the first in words and how many more; all of them on its sheet. */
export const oneLine = ({ w }: App, marks: readonly string[]): string | undefined =>
  marks.length > 1 ? w('card.more-marks', { first: marks[0] ?? '', count: marks.length - 1 }) : marks[0];

/** Said on the card that leaves a screw for later, where every other screw that is in waits already. */
export function deferMark(app: App): string | undefined {
  const view = app.view();
  return view?.screws[view.called ?? '']?.othersWait ? app.w('card.defer-all') : undefined;
}

/** A notice in the words of the content; a cuff without a limit says so, with its time. */
export function noticeWords(app: App, notice: NoticeId): string {
  const { label } = app.content().phrases.holds[notice];
  const view = app.view();
  if (notice !== 'tourniquet' || !view || view.limits.tourniquet !== null) return label;
  return app.w('notice.no-limit', { label, minutes: span(view.clocks.tourniquetMinutes) });
}

/** Holds that wait behind the one that is asked, named; empty for none. */
export const waitingWords = (
  { w, content }: App,
  holds: readonly (keyof ReturnType<App['content']>['phrases']['holds'])[],
): string =>
  holds.length === 0
    ? ''
    : w('hold.waits', {
        count: holds.length,
        holds: holds.map((hold) => content().phrases.holds[hold].glance).join(', '),
      });
