/** What the second ladder says beside cards and stage: what is not known, what opens if the screw waits, notices. */
import type { NoticeId } from '../../../content/ids.ts';
import type { IfYouWait, OfferedMove, ScrewView } from '../../../machines/view.types.ts';
import { percent, span } from '../../format/figures.ts';
import type { App } from '../app.ts';

/**
 * What a move rests on that nobody has told: each a short question, and a tool whose size is not known.
 *
 * @example cardMarks(app, { ...offered, unknown: ['headProud'] }) // ['head proud?']
 */
export function cardMarks({ w }: App, { unknown, sizeUnknown }: OfferedMove): string[] {
  const asked = (unknown ?? []).map((fact) => w(`fact.short.${fact}`));
  return sizeUnknown ? [...asked, w('card.size-unknown')] : asked;
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
    w('wait.opens', { first: tacticWords(app, row), move: content().phrases.moves[row.opens].glance }),
    ...(row.cortexLost === null ? [] : [w(now === null ? 'wait.cost' : 'wait.cost-now', cost)]),
    ...(row.sure ? [] : [w('wait.unsure')]),
  ];
  return parts.join(', ');
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
