/**
 * The department's own numbers on this device, counted from its closed cases in slices so small that no tap waits for
 * them. What a case adds is kept as long as the app runs; the figures are made anew when a case is closed or goes.
 */
import { batch, createEffect, createMemo, createRoot, createSignal, on, type Accessor } from 'solid-js';
import { contentOf } from '../../content/overlay.ts';
import { readingOutcome, type CaseOutcome } from '../../machines/across/outcome.ts';
import { updatedRates, type UpdatedRate } from '../../machines/across/rates.ts';
import { report, type Report } from '../../machines/across/report.ts';
import { addOutcome, emptyTally, passOver } from '../../machines/across/tally.ts';
import { verifying } from '../../machines/seal.ts';
import { quietMoment } from '../device/quiet.ts';
import type { StoredCase } from '../store/port.ts';
import { isInvented } from './demo.ts';
import { department } from './department.ts';
import { inSlices } from './slices.ts';
import type { Session } from './session.ts';

export interface Numbers {
  report: Report;
  rates: UpdatedRate[];
}

export interface Across {
  /** Without invented cases; null until everything was counted once. */
  numbers: Accessor<Numbers | null>;
  /** The same with the invented ones. */
  withInvented: Accessor<Numbers | null>;
  progress: Accessor<{ done: number; of: number }>;
}

const pause = () => new Promise<void>((go) => setTimeout(go));

/** ms after which counting begins, however busy the screen is. */
const patience = 2000;

type Read = CaseOutcome | 'broken' | 'unreadable';

async function read({ meta, entries }: StoredCase, isWanted: () => boolean): Promise<Read | null> {
  const content = contentOf(meta.contentVersion, meta.overlay);
  if (!content) return 'unreadable';
  const seals = await inSlices(verifying(entries), isWanted);
  if (!seals || seals.seals === 'broken') return seals && 'broken';
  return inSlices(readingOutcome(entries, content), isWanted);
}

function numbersOf(reads: readonly { read: Read; invented: boolean }[], withInvented: boolean): Numbers {
  const content = department().content();
  const tally = emptyTally();
  for (const one of reads) {
    if (one.invented && !withInvented) passOver(tally, 'invented');
    else if (typeof one.read === 'string') passOver(tally, one.read);
    else addOutcome(tally, one.read);
  }
  return { report: report(tally, content), rates: updatedRates(tally, content) };
}

function createAcross(session: Session): Across {
  const known = new Map<string, { entries: number; read: Read }>();
  const [numbers, setNumbers] = createSignal<Numbers | null>(null);
  const [withInvented, setWithInvented] = createSignal<Numbers | null>(null);
  const [progress, setProgress] = createSignal({ done: 0, of: 0 });
  let turn = 0;

  async function count(): Promise<void> {
    const mine = ++turn;
    const isWanted = () => mine === turn;
    // What asks for figures first is the start of the app itself.
    await quietMoment(patience);
    const reads: { read: Read; invented: boolean }[] = [];
    const all = session.all();
    for (const stored of all) {
      if (!isWanted()) return;
      const { caseId, demo } = stored.meta;
      const before = known.get(caseId);
      const isKnown = before?.entries === stored.entries.length;
      const fresh = isKnown ? before.read : await read(stored, isWanted);
      if (fresh === null) return;
      known.set(caseId, { entries: stored.entries.length, read: fresh });
      reads.push({ read: fresh, invented: demo || isInvented(stored.entries) });
      if (!isKnown) setProgress({ done: reads.length, of: all.length });
    }
    if (!isWanted()) return;
    // Each of these is a slice of its own, and so is the painting of what they give.
    const plain = numbersOf(reads, false);
    await pause();
    const whole = reads.some(({ invented }) => invented) ? numbersOf(reads, true) : plain;
    await pause();
    if (!isWanted()) return;
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
  return { numbers, withInvented, progress };
}

const made = new WeakMap<Session, Across>();

/** The numbers over the cases of a session; counting begins when they are first asked for. */
export function acrossOf(session: Session): Across {
  const known = made.get(session) ?? createRoot(() => createAcross(session));
  made.set(session, known);
  return known;
}
