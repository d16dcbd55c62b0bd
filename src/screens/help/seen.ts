/** Whether this device has shown, or been told not to show, how the work goes. */
import { createKept, type Kept } from '../../device/kept.ts';

let kept: Kept<boolean> | undefined;
export const helpSeen = (): Kept<boolean> =>
  (kept ??= createKept('help-seen', (value) => (typeof value === 'boolean' ? value : null), false));
