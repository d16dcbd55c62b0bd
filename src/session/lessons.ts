/**
 * What is learned from the cases of this device: forecasts held against what came of them, and the next tool to buy. Each
 * case takes a while, so they are reckoned in slices, the newest first, and only while somebody looks; what was reckoned
 * is kept as long as the app runs.
 */
import { createEffect, createSignal, on, onCleanup, type Accessor } from 'solid-js';
import { contentOf } from '../../content/overlay.ts';
import { addLesson, learnedFrom, noLessons, type Learned } from '../../machines/across/lessons.ts';
import type { CaseOutcome } from '../../machines/across/outcome.ts';
import { reckoning, type Reckoned } from '../../machines/across/reckon.ts';
import { ratesBefore } from '../../machines/across/then.ts';
import type { Content } from '../../content/types.ts';
import type { OwnRate } from '../../machines/own-rates.ts';
import type { StoredCase } from '../store/port.ts';
import { acrossOf } from './across.ts';
import type { CountedCase } from './counting.ts';
import type { Session } from './session.ts';
import { inSlices } from './time-slicing.ts';

interface PlannedCase {
  stored: StoredCase;
  outcome: CaseOutcome;
}

/** What was reckoned of a case, with what it was reckoned by. */
const known = new Map<string, { by: string; reckoned: Reckoned }>();

/** ms between two pictures of what is reckoned so far. */
const betweenMs = 700;

/** Cases with a plan, newest first, each once: of two copies the one that tells of its end. */
function plannedOf(read: readonly CountedCase[], withInvented: boolean): PlannedCase[] {
  const found = new Map<string, PlannedCase>();
  for (const { stored, read: outcome, invented } of read) {
    if (typeof outcome === 'string' || outcome.phase === 'unopened' || (invented && !withInvented)) continue;
    if (!found.has(outcome.id) || outcome.phase === 'closed') found.set(outcome.id, { stored, outcome });
  }
  return [...found.values()].sort((a, b) => ((a.outcome.day ?? '') < (b.outcome.day ?? '') ? 1 : -1));
}

const contentOfCase = ({ stored: { meta } }: PlannedCase) => contentOf(meta.contentVersion, meta.overlay);

/** The rates that stood for each case, counted once through in the order of their first moves; pauses after each case. */
function* ratesOfAll(cases: readonly PlannedCase[]): Generator<void, Map<PlannedCase, readonly OwnRate[]>> {
  const begun = ({ outcome }: PlannedCase) => outcome.course.begunAt ?? Infinity;
  const before = ratesBefore(cases.map(({ outcome }) => outcome));
  const rates = new Map<PlannedCase, readonly OwnRate[]>();
  // Of two that wait for their first move neither comes before the other: a difference of both would be no number.
  for (const one of [...cases].sort((a, b) => (begun(a) === begun(b) ? 0 : begun(a) - begun(b)))) {
    const content = contentOfCase(one);
    if (content) rates.set(one, before(one.outcome, content));
    yield;
  }
  return rates;
}

async function reckonedOf(one: PlannedCase, own: readonly OwnRate[], wanted: () => boolean): Promise<Reckoned | null> {
  const { stored, outcome } = one;
  const { meta, entries } = stored;
  const content = contentOfCase(one);
  if (!content) return null;
  const by = JSON.stringify([entries.length, own]);
  const kept = known.get(meta.caseId);
  if (kept?.by === by) return kept.reckoned;
  const reckoned = await inSlices(reckoning(entries, outcome, content, own, meta.format), wanted);
  if (reckoned) known.set(meta.caseId, { by, reckoned });
  return reckoned;
}

/**
 * What is learned, as far as it is reckoned; it says itself how many of how many cases those are. Ends with its owner.
 *
 * @param isLooked reckons while this says so
 * @returns null until the cases are counted and somebody looked
 */
export function createLessons(
  { session, content }: { session: Session; content: () => Content },
  withInvented: Accessor<boolean>,
  isLooked: Accessor<boolean>,
): Accessor<Learned | null> {
  const across = acrossOf(session);
  const [learned, setLearned] = createSignal<Learned | null>(null);
  createEffect(on(withInvented, () => setLearned(null), { defer: true }));
  createEffect(() => {
    const isWith = withInvented();
    if (!isLooked() || !(isWith ? across.withInvented() : across.numbers())) return;
    let isWanted = true;
    onCleanup(() => (isWanted = false));
    const wanted = () => isWanted;
    void reckonAll(plannedOf(across.read(), isWith), wanted, content(), setLearned);
  });
  return learned;
}

async function reckonAll(
  cases: readonly PlannedCase[],
  wanted: () => boolean,
  content: Content,
  show: (found: Learned) => void,
): Promise<void> {
  const lessons = noLessons();
  const showNow = () => show(learnedFrom(lessons, cases.length, content));
  showNow();
  const rates = await inSlices(ratesOfAll(cases), wanted);
  let shown = performance.now();
  for (const one of rates ? cases : []) {
    const reckoned = await reckonedOf(one, rates?.get(one) ?? [], wanted);
    if (!wanted()) return;
    if (reckoned) addLesson(lessons, reckoned);
    if (performance.now() - shown < betweenMs) continue;
    showNow();
    shown = performance.now();
  }
  if (wanted()) showNow();
}
