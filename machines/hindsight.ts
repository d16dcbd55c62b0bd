/** What only later entries tell of an earlier one: that it was struck, or that it changed the cuff after all. */
import type { Jump } from './clocks.ts';
import { cuffChanges, type CuffChange } from './cuff.ts';
import type { Entry } from './entry.ts';
import { struckBy } from './strike.ts';
import { epoch } from './time.ts';

export interface Hindsight {
  struck: ReadonlySet<number>;
  /** Strikes that cannot stand. */
  refused: ReadonlySet<number>;
  /** Changes of the cuff that set it to what it was, by time, both when they were told and by all that was told since. */
  idle: ReadonlySet<number>;
}

type Corrected = (at: number, n: number, jumps: readonly Jump[]) => number;

/** Looks at the whole log once. */
export function hindsightOf(entries: readonly Entry[], corrected: Corrected): Hindsight {
  const { struck, refused } = struckBy(entries);
  const told: CuffChange[] = [];
  const jumps: Jump[] = [];
  for (const entry of entries) {
    if (struck.has(entry.n)) continue;
    const at = epoch(entry.at);
    if (entry.type === 'clock-jumped') jumps.push({ n: entry.n, at, seconds: entry.seconds });
    if (entry.type === 'tourniquet') told.push({ n: entry.n, to: entry.to, corrected: corrected(at, entry.n, jumps) });
  }
  const changing = new Set(cuffChanges(told).map(({ n }) => n));
  const idle = told.filter(
    ({ n }, i) => !changing.has(n) && !cuffChanges(told.slice(0, i + 1)).some((one) => one.n === n),
  );
  return { struck, refused, idle: new Set(idle.map(({ n }) => n)) };
}
