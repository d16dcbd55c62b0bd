/** The printed sheet of the plan: needed before the operation and seldom in it. */
import { later } from '../later.tsx';

export const BriefSheet = later(() => import('./BriefSheet.tsx').then((script) => script.BriefSheet));
