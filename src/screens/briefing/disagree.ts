/** Where the old record and the films disagree: a remark in set words, so that it can be found again in any log. */
import type { EntryDraft } from '../../../machines/entry.ts';
import { effective } from '../../session/effective.ts';
import type { OpenCase } from '../../session/session.ts';
import type { Messages } from '../../format/messages.ts';

/**
 * The remark that carries a disagreement.
 *
 * @param screw null for the plan as a whole
 * @param record what the old record says, in a few words
 * @param films what the films show
 * @example disagreement(w, { screw: '3', record: '36 mm', films: 'shorter' }) // { type: 'remark', text: 'Record and films disagree, screw 3: …' }
 */
export function disagreement(
  w: Messages,
  { screw, record, films }: { screw: string | null; record: string; films: string },
): EntryDraft {
  const where = screw === null ? w('plan.whole-metal') : w('plan.one-screw', { screw });
  return { type: 'remark', text: `${w('plan.disagree')}, ${where}: ${w('plan.disagree-what', { record, films })}` };
}

/** Every disagreement in force, in the words of the log. */
export const disagreements = (open: OpenCase, w: Messages): string[] =>
  effective(open).flatMap((entry) =>
    entry.type === 'remark' && entry.text.startsWith(`${w('plan.disagree')}, `)
      ? [entry.text.slice(w('plan.disagree').length + 2)]
      : [],
  );
