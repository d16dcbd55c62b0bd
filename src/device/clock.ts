/** The device's two clocks: the wall clock, which anybody may set, and the monotonic one, which only runs on. */
import { timeIn } from '../../machines/time.ts';

/**
 * The time now, RFC 3339 with milliseconds and the zone's own offset.
 *
 * @param zone IANA name
 * @param ms milliseconds since 1970; left out, now
 * @returns throws a RangeError for an unknown zone
 * @example now('Europe/Oslo', 0) // '1970-01-01T01:00:00.000+01:00'
 */
export const now = (zone: string, ms: number = Date.now()): string => timeIn(zone, ms);

/** The zone this device is set to, such as Europe/Oslo. */
export const ownZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Milliseconds on a clock that nobody can set. Its zero means nothing; some devices stop it while they sleep. */
export const monotonic = (): number => performance.now();

export interface Jump {
  /** Seconds by which the wall clock ran ahead of the monotonic one; below zero when it was set back. */
  seconds: number;
  /**
   * The page was hidden meanwhile and the jump goes forward: the device may have slept with its monotonic clock
   * stopped, and the time may really have passed.
   */
  maybeSlept: boolean;
}

export interface JumpSources {
  wall?: () => number;
  monotonic?: () => number;
  /** ms between two looks. */
  every?: number;
  page?: Pick<Document, 'hidden' | 'addEventListener' | 'removeEventListener'>;
}

/** ms by which the clocks may differ before it counts. */
const LIMIT = 2000;

/**
 * Calls back when the wall clock has moved against the monotonic one by more than 2 s since the start or the last jump.
 * What it moves by less than that is never told, so a time with the jumps taken out may be off by up to 2 s; and what is
 * entered between a jump and the next look (up to `every` ms, longer while the page sleeps) by the jump itself.
 *
 * @returns ends the watch
 * @example watchJumps(({ seconds }) => log('clock-jumped', seconds))
 */
export function watchJumps(callback: (jump: Jump) => void, sources: JumpSources = {}): () => void {
  const { wall = Date.now, monotonic: running = monotonic, every = 1000, page = document } = sources;
  let base = wall() - running();
  let wasHidden = page.hidden;
  const look = () => {
    const moved = wall() - running() - base;
    const hidden = wasHidden || page.hidden;
    wasHidden = page.hidden;
    if (Math.abs(moved) <= LIMIT) return;
    base += moved;
    callback({ seconds: Math.round(moved) / 1000, maybeSlept: moved > 0 && hidden });
  };
  const changed = () => {
    wasHidden ||= page.hidden;
    if (!page.hidden) look();
  };
  const timer = setInterval(look, every);
  page.addEventListener('visibilitychange', changed);
  return () => {
    clearInterval(timer);
    page.removeEventListener('visibilitychange', changed);
  };
}
