/** What this department's own cases say of one move at one stage, for the cards at the table. */
import type { MoveId, Stage } from '../../../content/ids.ts';
import { aimOf } from '../../../machines/across/aim.ts';
import type { Share } from '../../../machines/across/report.ts';
import { acrossOf } from '../../session/across.ts';
import type { Messages } from '../../format/messages.ts';
import type { App } from '../app.ts';

/**
 * How often a move at a stage reached its aim, over all closed cases of this device but the invented ones.
 *
 * @returns undefined while nothing was counted: a card says nothing then
 */
export function countedHere(app: App, move: MoveId, stage: Stage | undefined): Share | undefined {
  const row = acrossOf(app.session)
    .numbers()
    ?.report.moves.find((one) => one.move === move && one.stage === stage);
  return row && row.tries > 0 ? aimOf(row, app.content()) : undefined;
}

/** Characters up to which a share is kept on one line; a longer one may wrap, so that it fits its touch. */
const unbroken = 7;

/** "here: 7 of 9"; nothing while nothing was counted. */
export function hereWords(w: Messages, here: Share | undefined): string {
  if (!here) return '';
  const share = w('across.of', { count: here.count, of: here.of });
  return w('across.card', { share: share.length > unbroken ? share : share.replaceAll(' ', '\u00a0') });
}
