/** A plan played through before the operation, with outcomes that are dealt: needed only in the briefing. */
import { later } from '../later.tsx';

export const Rehearsal = later(() => import('./Rehearsal.tsx').then((script) => script.Rehearsal));
