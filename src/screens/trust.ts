/** Passcode, backup and retention, as the screens are given them. */
import { createContext, useContext } from 'solid-js';
import type { Trust } from '../session/trust.ts';

export interface DeviceTrust extends Trust {
  idleMinutes: () => number;
  setIdleMinutes: (minutes: number) => void;
  retentionMonths: () => number | null;
  setRetentionMonths: (months: number | null) => void;
}

export const TrustContext = createContext<DeviceTrust>();

/** Undefined where a screen is shown by itself, without the device around it. */
export const useTrust = (): DeviceTrust | undefined => useContext(TrustContext);
