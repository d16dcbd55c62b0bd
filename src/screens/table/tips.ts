/** Broken tips whose story has not ended. */
import type { Tip } from '../../../machines/case.context.ts';
import type { Folded } from '../../../machines/folded.ts';
import { rowsOf } from '../../../machines/trace.ts';
import type { App } from '../app.ts';

/** Tips that are open in the account, oldest first: neither all there nor said to stay nor given up at the closing. */
export function openTips(app: App): readonly Tip[] {
  const open = app.view()?.toolTips.filter(({ closes }) => closes === 'open') ?? [];
  const tips = app.open()?.folded.case.context.tips ?? [];
  return tips.filter(({ told }) => open.some(({ entry }) => told.includes(entry)));
}

/** The tip that was said to be found last; without such a word the oldest that nobody has ended. */
export function tipAsked({ case: { context }, trace }: Folded): Tip | null {
  const ended = [...context.tipPieces.filter(({ complete }) => complete), ...context.tipsLeft];
  const open = context.tips.filter(({ told }) => !ended.some(({ tip }) => tip !== null && told.includes(tip)));
  const said = rowsOf(trace).findLast(({ entry, heard }) => {
    return heard && entry.type === 'hold-answered' && entry.hold === 'find-tip' && entry.answer === 'found';
  })?.entry;
  const named = said?.type === 'hold-answered' ? open.find(({ told }) => told.includes(said.tip ?? 0)) : undefined;
  return named ?? open[0] ?? null;
}
