/**
 * The department's own numbers on this device, counted from its closed cases in slices so small that no tap waits for
 * them. What a case adds is kept as long as the app runs; the figures are computed again when a case is closed or removed.
 */
import { batch, createEffect, createMemo, createRoot, createSignal, on, type Accessor } from 'solid-js';
import { deferred } from '../deferred.ts';
import { quietMoment } from '../device/quiet.ts';
import type { CountedCase, Numbers } from './counting.ts';
import { department } from './department.ts';
import type { Session } from './session.ts';

export type { Numbers } from './counting.ts';

export interface Across {
  /** Without invented cases; null until everything was counted once. */
  numbers: Accessor<Numbers | null>;
  /** The same with the invented ones. */
  withInvented: Accessor<Numbers | null>;
  progress: Accessor<{ done: number; of: number }>;
  /** What was read for the figures that stand. */
  read: () => readonly CountedCase[];
}

/** No case in work waits for a figure over others, so what counts them comes after the first screen. */
const counting = deferred(() => import('./counting.ts'));

const pause = () => new Promise<void>((go) => setTimeout(go));

/** ms after which counting begins, however busy the screen is. */
const timeoutMs = 2000;

function createAcross(session: Session): Across {
  const known = new Map<string, { entries: number; read: CountedCase['read'] }>();
  const [numbers, setNumbers] = createSignal<Numbers | null>(null);
  const [withInvented, setWithInvented] = createSignal<Numbers | null>(null);
  const [progress, setProgress] = createSignal({ done: 0, of: 0 });
  let read: readonly CountedCase[] = [];
  let turn = 0;

  async function count(): Promise<void> {
    const mine = ++turn;
    const isWanted = () => mine === turn;
    // What asks for figures first is the start of the app itself.
    await quietMoment(timeoutMs);
    // A script that cannot be had now is asked for again at the next count; no figure is shown until then.
    const parts = await counting.load().catch(() => null);
    if (parts === null || !isWanted()) return;
    const { isInvented, numbersOf, readOne } = parts;
    const reads: CountedCase[] = [];
    const all = session.all();
    for (const stored of all) {
      if (!isWanted()) return;
      const { caseId, demo } = stored.meta;
      const before = known.get(caseId);
      const isKnown = before?.entries === stored.entries.length;
      const fresh = isKnown ? before.read : await readOne(stored, isWanted);
      if (fresh === null) return;
      known.set(caseId, { entries: stored.entries.length, read: fresh });
      reads.push({ stored, read: fresh, invented: demo || isInvented(stored.entries) });
      if (!isKnown) setProgress({ done: reads.length, of: all.length });
    }
    if (!isWanted()) return;
    // Each of these is a slice of its own, and so is the painting of what they give.
    const plain = numbersOf(reads, false);
    await pause();
    const whole = reads.some(({ invented }) => invented) ? numbersOf(reads, true) : plain;
    await pause();
    if (!isWanted()) return;
    read = reads;
    batch(() => {
      setWithInvented(whole);
      setNumbers(plain);
      setProgress({ done: all.length, of: all.length });
    });
  }

  // An entry in a case that is going on changes no figure: only how many are closed, and which, starts a count.
  const cases = createMemo(() =>
    session
      .lines()
      .map(({ meta, closed, entries }) => `${meta.caseId} ${closed ? entries : 'open'}`)
      .join(),
  );
  createEffect(on([cases, department().inUse], () => void count()));
  return { numbers, withInvented, progress, read: () => read };
}

const made = new WeakMap<Session, Across>();

/** Lets a session that counts nothing, such as a rehearsal, read the numbers of another one. */
export const readAcross = (session: Session, across: Across): void => void made.set(session, across);

/** The numbers over the cases of a session; counting begins when they are first asked for. */
export function acrossOf(session: Session): Across {
  const known = made.get(session) ?? createRoot(() => createAcross(session));
  made.set(session, known);
  return known;
}
