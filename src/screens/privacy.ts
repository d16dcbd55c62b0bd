/** Passcode, backup and retention, as the screens are given them. */
import { createContext, useContext } from 'solid-js';
import type { Privacy } from '../session/privacy.ts';

export interface DevicePrivacy extends Privacy {
  idleMinutes: () => number;
  setIdleMinutes: (minutes: number) => void;
  retentionMonths: () => number | null;
  setRetentionMonths: (months: number | null) => void;
}

export const PrivacyContext = createContext<DevicePrivacy>();

/** Undefined where a screen is shown by itself, without the device around it. */
export const usePrivacy = (): DevicePrivacy | undefined => useContext(PrivacyContext);
