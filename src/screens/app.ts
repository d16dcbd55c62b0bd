/** What every screen is given: the session, the words, the ticking clock, and the way to other screens. */
import { createContext, useContext, type Accessor } from 'solid-js';
import type { Content } from '../../content/types.ts';
import type { CaseState } from '../../machines/view.types.ts';
import type { OpenCase, Session } from '../session/session.ts';
import type { Messages } from '../format/messages.ts';

export type ScreenName = 'cases' | 'briefing' | 'table' | 'glance' | 'closing' | 'record' | 'settings' | 'across';

export type Theme = 'dark' | 'light';

/** Settings of the device; nothing of a case. */
export interface Preferences {
  theme: Theme;
  /** CSS px per mm, or null until somebody has held a card against the screen. */
  pxPerMm: number | null;
  /** Distance of the surgeon from the screen, m. */
  distance: number;
}

export interface App {
  session: Session;
  /** Content of the open case, else of new cases. */
  content: Accessor<Content>;
  w: Messages;
  /** The open case, or null. */
  open: Accessor<OpenCase | null>;
  /** The open case folded, with clocks as of now; null when none is open. */
  view: Accessor<CaseState | null>;
  /** Ticks every second: ms since 1970 as the device's clock says. */
  tick: Accessor<number>;
  screen: Accessor<ScreenName>;
  go: (screen: ScreenName) => void;
  /** False in a window that only follows another. */
  writer: Accessor<boolean>;
  /** False where the address is not secure, so that nothing can be recorded; true when left out. */
  secure?: () => boolean;
  preferences: Accessor<Preferences>;
  prefer: (change: Partial<Preferences>) => void;
  /** What the start reports: rows restored, damaged or refused. */
  startTold: Accessor<readonly string[]>;
  /** A new version of the app waits; asks it in. Offered on the case list alone, with no case open. */
  update: Accessor<(() => void) | null>;
  /** Sentence about the storage: kept, or at risk. */
  storage: Accessor<string>;
  /** A plan is only rehearsed: nothing of this device is to be changed from here. Left out: it is not. */
  rehearsal?: true;
}

/** How long the last entry can be taken back by one touch, ms; later by a strike with a reason. */
export const takeBackMs = 10_000;

/** The screen on which a case in this phase goes on; the list of cases without one. */
export const screenOf = (view: CaseState | null): ScreenName =>
  view
    ? ({ briefing: 'briefing', working: 'table', closing: 'closing', closed: 'record' } as const)[view.phase]
    : 'cases';

/** Has content run out, so that this has to be said? */
export const isExpired = ({ expires }: Content, now: number): boolean =>
  expires < new Date(now).toISOString().slice(0, 10);

export const AppContext = createContext<App>();

/** The app that surrounds this screen. */
export function useApp(): App {
  const app = useContext(AppContext);
  if (!app) throw new Error('a screen was used outside the app');
  return app;
}
