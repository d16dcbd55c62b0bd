/** The open case as it is shown, its clocks as of now. */
import { createMemo, type Accessor } from 'solid-js';
import { correctedTime } from '../../machines/clocks.ts';
import { stateOf, timed } from '../../machines/view.ts';
import type { CaseState } from '../../machines/view.types.ts';
import type { OpenCase } from '../session/session.ts';

/**
 * The ladder is folded out when an entry comes, the clocks every second: what has not changed stays the same object, so
 * that no card is drawn anew under a finger.
 *
 * @param tick now, ms since 1970
 */
export function createCaseView(open: Accessor<OpenCase | null>, tick: Accessor<number>): Accessor<CaseState | null> {
  const still = createMemo(() => {
    const now = open();
    return now && stateOf(now.folded);
  });
  return createMemo(() => {
    const now = open();
    const shown = still();
    if (!now || !shown || shown.phase === 'closed') return shown;
    const corrected = correctedTime(tick(), Infinity, now.folded.jumps);
    return { ...shown, ...timed(now.folded, Math.max(corrected, now.folded.latest)) };
  });
}
