import type { CaseState } from '../../../machines/view.types.ts';

/** Is every screw out, or said to stay? Of no screw at all, too. */
export const hasAllEnded = (view: CaseState | null): boolean =>
  Object.values(view?.screws ?? {}).every(({ stage }) => stage === 'out' || stage === 'left-in');
