/**
 * The running of cases: build the entry, decide, write it to disk, wait for the commit, and only then show it.
 * One write at a time; a write that fails stops everything until it is tried again or given up.
 */
import { batch, createSignal } from 'solid-js';
import { currentVersion } from '../../content/releases/index.ts';
import { contentOf } from '../../content/overlay.ts';
import { headlineOf, headlineOfFolded, type CaseHeadline } from '../../machines/case-line.ts';
import { formatVersion } from '../../machines/conversions.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { fold, ruleVersions, step } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { noSeal, sealOf } from '../../machines/seal.ts';
import { epoch, minutesBefore } from '../../machines/time.ts';
import { phaseOf } from '../../machines/view.ts';
import { deferred } from '../deferred.ts';
import { Failed, type Failure } from '../failure.ts';
import { serialQueue } from '../store/serial-queue.ts';
import type { Pin } from './department.ts';
import type { AppendResult, CaseMeta, LogPort, StoredCase } from '../store/port.ts';

export interface OpenCase {
  meta: CaseMeta;
  entries: readonly Entry[];
  folded: Folded;
}

export type CaseLine = CaseHeadline & { meta: CaseMeta };

/** An entry that could not be written. It stays in view until it is on disk or given up. */
export interface Unsaved {
  entry: Entry;
  reason: Failure;
}

export type RecordResult = { ok: true; entry: Entry } | { ok: false; reason: Failure };

/** What became of a case that was brought in, and its id here. */
export type BroughtIn = AppendResult & { caseId: string };

/** What is sent to a following window. */
export type Told =
  | { kind: 'entry'; meta: CaseMeta; entry: Entry }
  | { kind: 'opened'; meta: CaseMeta }
  | { kind: 'left' }
  | { kind: 'beat'; caseId: string | null; entries: number };

/** An entry that says something of those before it: made once more when others must be written ahead of it. */
export type DraftAfter = (before: readonly Entry[]) => EntryDraft;

export interface SessionParts {
  log: LogPort;
  stored: readonly StoredCase[];
  /** Time now, RFC 3339 with offset and milliseconds. */
  now: () => string;
  newId: () => string;
  tell?: (told: Told) => void;
  /** Does this window hold the cases? Left out: it does. Where it does not, nothing is written. */
  holds?: () => boolean;
  /** In words, the device that a case is taken up again on; left out: nobody is asked how long a case had lain. */
  device?: () => string;
  /** With which content a new case is opened; left out: the release of this build. */
  pin?: () => Pin;
  /** Opens a stored case; left out: folded afresh each time. */
  openStored?: typeof openStored;
}

/** When an event happened: now, so many minutes ago, or at a time. */
export type When = { minutesAgo?: number; at?: string };

const lineOf = ({ meta, entries }: StoredCase): CaseLine => ({ meta, ...headlineOf(entries) });

/** Folds a stored case with the content it was written with; null when this build lacks that content. */
export function openStored({ meta, entries }: StoredCase): OpenCase | null {
  const content = contentOf(meta.contentVersion, meta.overlay);
  return content ? { meta, entries, folded: fold(entries, content, undefined, meta.format) } : null;
}

/** Id of the case that a start should resume: the one last written that is not closed. */
function unfinishedOf(lines: readonly CaseLine[]): string | null {
  const going = lines.filter((line) => !line.closed && line.entries > 0);
  return going.sort((a, b) => epoch(b.lastAt ?? '') - epoch(a.lastAt ?? ''))[0]?.meta.caseId ?? null;
}

/**
 * Opens the case that a start will resume before it is known that the other copy says the same.
 *
 * @param cases as one copy holds them
 * @returns opens a stored case: at once the one opened ahead, if asked for those very entries; every other is folded afresh
 */
export function openAhead(cases: readonly StoredCase[]): typeof openStored {
  const caseId = unfinishedOf(cases.map(lineOf));
  const one = cases.find(({ meta }) => meta.caseId === caseId);
  let ahead = one ? openStored(one) : null;
  return (stored) => {
    const found = ahead;
    ahead = null;
    return found?.entries === stored.entries && found.meta === stored.meta ? found : openStored(stored);
  };
}

/**
 * The entry as it will stand in the log. `logged` never runs backwards, whatever the device clock does. A log that came
 * without seals goes on without: one with some would read as broken.
 */
export function entryFrom(draft: EntryDraft, entries: readonly Entry[], now: string, when: When = {}): Entry {
  const last = entries.at(-1);
  // A clock that was set back goes on from there, and so does one that nobody watched: the entry that says so may be
  // logged before the one before it.
  const isSetBack = (draft.type === 'clock-jumped' && draft.seconds < 0) || draft.type === 'resumed';
  const logged = last && !isSetBack && epoch(last.logged) > epoch(now) ? last.logged : now;
  const at = when.at ?? (when.minutesAgo ? minutesBefore(now, when.minutesAgo) : now);
  const { type, ...fields } = draft;
  const { calledBy, loggedBy, typed, ...own } = fields as Record<string, unknown>;
  const people = {
    ...(calledBy !== undefined && { calledBy }),
    ...(loggedBy !== undefined && { loggedBy }),
    ...(typed !== undefined && { typed }),
  };
  const bare = {
    n: entries.length + 1,
    at: epoch(at) > epoch(logged) ? logged : at,
    logged,
    ...people,
    type,
    ...own,
  } as Entry;
  return last && last.seal === undefined ? bare : { ...bare, seal: sealOf(last?.seal ?? noSeal, bare) };
}

/** Records several entries in order; stops at the first that is refused. */
export const inTurn =
  (record: (draft: EntryDraft) => Promise<RecordResult>) =>
  async (drafts: readonly EntryDraft[]): Promise<RecordResult> => {
    let last: RecordResult = { ok: false, reason: { code: 'nothing' } };
    for (const draft of drafts) {
      last = await record(draft);
      if (!last.ok) return last;
    }
    return last;
  };

/** Checks an entry by its format: in a script of its own, since nothing is entered before the first screen stands. */
const checking = deferred(() => import('./refusal.ts'));

export type Session = ReturnType<typeof createSession>;

export function createSession(parts: SessionParts) {
  const [lines, setLines] = createSignal<readonly CaseLine[]>(parts.stored.map(lineOf));
  const [open, setOpen] = createSignal<OpenCase | null>(null);
  const [unsaved, setUnsaved] = createSignal<Unsaved | null>(null);
  const [copies, setCopies] = createSignal<AppendResult>({ ok: true, copies: 2 });
  const stored = new Map<string, StoredCase>(parts.stored.map((one) => [one.meta.caseId, one]));
  const serial = serialQueue();
  /** Cases that were open here, so that the clock was watched all the while. */
  const watched = new Set<string>();
  /** The running case was taken up again, and nobody has said yet whether the time is right. */
  const [takenUp, setTakenUp] = createSignal(false);
  /** A touch was refused because this window only shows. Stands until it is drawn anew. */
  const [turnedAway, setTurnedAway] = createSignal(false);
  const notHolder: Failure = { code: 'not-holder' };
  const mayWrite = (): boolean => {
    if (!parts.holds || parts.holds()) return true;
    setTurnedAway(true);
    return false;
  };
  /** What a copy refused for the same reason is told in the same way. */
  const heard = <R extends AppendResult>(result: R): R => {
    if (!result.ok && result.reason.code === 'not-holder') setTurnedAway(true);
    return result;
  };

  /** Writes and, once it is on disk, shows. */
  async function commit(entry: Entry): Promise<RecordResult> {
    const current = open();
    if (!current) return { ok: false, reason: { code: 'no-case' } };
    const folded = step(current.folded, entry, current.entries);
    if (folded.outOfOrder.includes(entry.n)) return { ok: false, reason: { code: 'out-of-order' } };
    if (!mayWrite()) return { ok: false, reason: notHolder };
    const result = heard(await parts.log.append(current.meta.caseId, entry));
    if (!result.ok && result.reason.code === 'not-holder') return { ok: false, reason: result.reason };
    if (!result.ok) {
      setUnsaved({ entry, reason: result.reason });
      return { ok: false, reason: result.reason };
    }
    const next: OpenCase = { ...current, entries: [...current.entries, entry], folded };
    const kept: StoredCase = { meta: current.meta, entries: next.entries as Entry[] };
    stored.set(current.meta.caseId, kept);
    batch(() => {
      setUnsaved(null);
      setCopies(result);
      if (entry.type === 'resumed') setTakenUp(false);
      setOpen(next);
      setLines((all) =>
        all.map((line) =>
          line.meta.caseId === kept.meta.caseId ? { meta: line.meta, ...headlineOfFolded(next.entries, folded) } : line,
        ),
      );
    });
    parts.tell?.({ kind: 'entry', meta: current.meta, entry });
    return { ok: true, entry };
  }

  const record = (told: EntryDraft | DraftAfter, when: When = {}): Promise<RecordResult> =>
    serial(async () => {
      const after = (before: readonly Entry[]) => (typeof told === 'function' ? told(before) : told);
      if (!mayWrite()) return { ok: false, reason: notHolder };
      const current = open();
      if (!current) return { ok: false, reason: { code: 'no-case' } };
      if (unsaved()) return { ok: false, reason: { code: 'unsaved' } };
      const draft = after(current.entries);
      const wanted = entryFrom(draft, current.entries, parts.now(), when);
      const checks = checking.loaded() ?? (await checking.load().catch(() => null));
      if (!checks) return { ok: false, reason: { code: 'not-fetched' } };
      const against = checks.refusal(current.folded, wanted);
      if (against) return { ok: false, reason: against };
      let raised = await raise(current);
      if (raised && !raised.ok) return raised;
      if (takenUp() && draft.type !== 'resumed') raised = await takeUp('not-known');
      if (raised && !raised.ok) return raised;
      const now = open();
      return now && raised ? commit(entryFrom(after(now.entries), now.entries, parts.now(), when)) : commit(wanted);
    });

  /** An old case that goes on says first from where on it stands in the format of this build; null when it does already. */
  const raise = async ({ entries, folded }: OpenCase): Promise<RecordResult | null> => {
    if (entries.length === 0 || folded.format >= formatVersion) return null;
    const rules = ruleVersions.current().number;
    return commit(entryFrom({ type: 'format-raised', to: formatVersion, rules }, entries, parts.now()));
  };

  const resumed = (gap: 'known' | 'not-known') => ({ type: 'resumed', device: parts.device?.() ?? '', gap }) as const;

  /** A touch that comes before the answer leaves it open how long the case had lain. */
  const takeUp = async (gap: 'known' | 'not-known'): Promise<RecordResult | null> => {
    const now = open();
    return now && commit(entryFrom(resumed(gap), now.entries, parts.now()));
  };

  const recordAll = inTurn(record);

  async function create(
    draft: Extract<EntryDraft, { type: 'case-opened' }>,
    demo = false,
    pin: Pin = parts.pin?.() ?? { contentVersion: currentVersion },
  ): Promise<RecordResult> {
    const meta: CaseMeta = { caseId: parts.newId(), ...pin, demo, created: parts.now() };
    if (!mayWrite()) return { ok: false, reason: notHolder };
    const result = heard(await parts.log.create(meta));
    if (!result.ok) return { ok: false, reason: result.reason };
    show({ meta, entries: [] });
    return record({ ...draft, rules: ruleVersions.current().number, contentVersion: meta.contentVersion });
  }

  function show(one: StoredCase): void {
    const opened = (parts.openStored ?? openStored)(one);
    if (!opened) return;
    const { caseId } = one.meta;
    const runs = ['working', 'closing'].includes(phaseOf(opened.folded));
    const isNew = parts.device !== undefined && runs && !watched.has(caseId);
    watched.add(caseId);
    stored.set(caseId, one);
    batch(() => {
      setOpen(opened);
      setTakenUp(isNew);
      setLines((all) => (all.some((line) => line.meta.caseId === caseId) ? all : [lineOf(one), ...all]));
    });
    parts.tell?.({ kind: 'opened', meta: one.meta });
  }

  /**
   * Makes the log hold a whole case, in one step, with what is quarantined beside it; it is listed once all of it is on
   * disk. Not for the open case.
   *
   * @param remark written behind its entries in the same step
   */
  const take = (one: StoredCase, quarantined: readonly Entry[] = [], remark?: string): Promise<AppendResult> =>
    serial(async () => {
      const more = remark === undefined ? [] : [entryFrom({ type: 'remark', text: remark }, one.entries, parts.now())];
      const whole: StoredCase = { meta: one.meta, entries: [...one.entries, ...more] };
      if (!mayWrite()) return { ok: false, reason: notHolder };
      const result = heard(await parts.log.heal(whole, quarantined));
      if (!result.ok) return result;
      stored.set(whole.meta.caseId, whole);
      setLines([...stored.values()].map(lineOf));
      return result;
    });

  return {
    lines,
    open,
    unsaved,
    turnedAway,
    copies,
    /** Is it asked whether the time is right? Until somebody says so, the next entry says first that it is not known. */
    takenUp,
    /** Says whether the time is right after a case was taken up again: whether it is known how long it had lain. */
    sayGap: (gap: 'known' | 'not-known'): Promise<RecordResult> => record(resumed(gap)),
    /** The clock was set with no case open: how long the cases have lain is not known any more. */
    clockMoved: (): void => watched.clear(),
    record,
    recordAll,
    create,
    /** Opens a stored case. */
    resume(caseId: string): void {
      const one = stored.get(caseId);
      if (one) show(one);
    },
    leave(): void {
      setOpen(null);
      setTakenUp(false);
      parts.tell?.({ kind: 'left' });
    },
    /** Tries the entry again that could not be written. */
    retry: (): Promise<RecordResult> =>
      serial(async () => {
        const waiting = unsaved();
        return waiting ? commit(waiting.entry) : { ok: false, reason: { code: 'nothing-waits' } };
      }),
    /** Lets an unwritten entry go; it was never shown as recorded. */
    giveUp: (): void => void setUnsaved(null),
    stored: (caseId: string): StoredCase | undefined => stored.get(caseId),
    all: (): StoredCase[] => [...stored.values()],
    /** Takes over stored cases: an import, or what another window wrote. Nothing that is stored is replaced. */
    adopt(more: readonly StoredCase[]): void {
      for (const one of more) if (!stored.has(one.meta.caseId)) stored.set(one.meta.caseId, one);
      setLines([...stored.values()].map(lineOf));
    },
    /**
     * Writes a whole case that came from a file, under an id of its own, in one step: all of it or nothing.
     *
     * @param remark what the file told and its entries do not, written behind them in the same step
     * @param format that its log begins in, where the log does not say so
     */
    bringIn: (
      contentVersion: string,
      entries: readonly Entry[],
      demo = false,
      overlay?: CaseMeta['overlay'],
      remark?: string,
      format = 1,
    ): Promise<BroughtIn> => {
      const pin = { contentVersion, ...(overlay !== undefined && { overlay }), ...(format > 1 && { format }) };
      const meta: CaseMeta = { caseId: parts.newId(), ...pin, demo, created: parts.now() };
      return take({ meta, entries: [...entries] }, [], remark).then((result) => ({ ...result, caseId: meta.caseId }));
    },
    take,
    /** Lets everything go that was read; the log keeps it. */
    forget(): void {
      stored.clear();
      batch(() => {
        setOpen(null);
        setLines([]);
      });
    },
    /** In a window that follows: shows a case as another window holds it. */
    follow(one: StoredCase | null): void {
      if (one) stored.set(one.meta.caseId, one);
      setOpen(one && openStored(one));
    },
    /** In a window that follows: one more entry. False when it does not join on, and all has to be read again. */
    followEntry(meta: CaseMeta, entry: Entry): boolean {
      const current = open();
      if (current?.meta.caseId !== meta.caseId || entry.n !== current.entries.length + 1) return false;
      const entries = [...current.entries, entry];
      stored.set(meta.caseId, { meta, entries });
      setOpen({ ...current, entries, folded: step(current.folded, entry, current.entries) });
      return true;
    },
    async remove(caseId: string): Promise<void> {
      if (!mayWrite()) throw new Failed(notHolder);
      await parts.log.remove(caseId);
      stored.delete(caseId);
      setLines((all) => all.filter((line) => line.meta.caseId !== caseId));
    },
    /** The open case that a start should resume: the one last written that is not closed. */
    unfinished: (): string | null => unfinishedOf(lines()),
  };
}
