/** For which reasons of stopping nothing more has to be looked for. */
import type { StopReason } from '../content/ids.ts';

/** Why nothing more is looked for: each is a reason to have the patient off the table. */
const mayNotLook: readonly StopReason[] = ['anaesthesia', 'patient', 'bleeding', 'bone', 'infection'];

/** Was work stopped for a reason for which nothing more has to be looked for? */
export const mayStopLooking = (stopped: StopReason | null): boolean => stopped !== null && mayNotLook.includes(stopped);
