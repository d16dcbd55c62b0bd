/**
 * Passcode, backup and wiping, as the screens use them: the vault and the session brought together. Keys of the case in
 * work stay on the device while it is in work, so that nothing is asked for in the middle of it.
 */
import { createEffect, createMemo, createRoot, createSignal } from 'solid-js';
import type { Fault } from '../../content/shape.ts';
import { headlineOf } from '../../machines/case-line.ts';
import { phaseOf } from '../../machines/view.ts';
import { failureOf, type Failure } from '../failure.ts';
import { watchIdle } from '../device/idle.ts';
import { deferred } from '../deferred.ts';
import { serialQueue } from '../store/serial-queue.ts';
import { openMirroredLog, type StartReport } from '../store/mirrored-log.ts';
import type { Tried, Vault } from '../store/encrypted/vault.ts';
import type { AppendResult } from '../store/port.ts';
import type { BackedUp, readBackup } from './backup.ts';
import type { Brought } from './backup-merge.ts';
import { headTells } from './head-tells.ts';
import type { Session } from './session.ts';

/** A backup is made and read in a script of its own: no case in work needs it. */
const backups = deferred(() => import('./backup.ts'));
const joining = deferred(() => import('./backup-merge.ts'));

export interface PrivacyParts {
  vault: Vault;
  session: Session;
  report: StartReport;
  /** May this window write? Asked each time. */
  writer: () => boolean;
  newId: () => string;
  /** Minutes without a touch, with no case in work, until it locks. */
  idleMinutes: () => number;
}

export type TakenIn =
  | Exclude<Awaited<ReturnType<typeof readBackup>>, { kind: 'read' }>
  /** Nothing was taken yet: in these cases the chain of seals is broken, and somebody has to say what becomes of them. */
  | { kind: 'changed'; cases: Changed[] }
  | Told;
export interface Changed {
  /** Number of its line in the file. */
  line: number;
  label: string;
  brokenAt: number | null;
}
interface Told {
  kind: 'taken';
  count: Record<Brought, number>;
  /** Of cases that were left out, with their place in the file. */
  faults: Fault[];
  /** Cases that were whole and could not be stored, with the number of their line. */
  notStored: { line: number; reason: Failure }[];
  missing: number;
  /** Cases with a broken chain that were left out because somebody said so. */
  left: number;
}

export type Privacy = ReturnType<typeof createPrivacy>;

export function createPrivacy({ vault, session, writer, newId, idleMinutes, ...parts }: PrivacyParts) {
  const [report, setReport] = createSignal(parts.report);
  let started = false;
  /** Id of the case in work; a closed one that is only read is none. */
  const inWork = () => {
    const open = session.open();
    return open && phaseOf(open.folded) !== 'closed' ? open.meta.caseId : null;
  };
  const [reading, setReading] = createSignal(false);
  /** Also while the log is read after the passcode was right: an empty list would look like lost cases. */
  const locked = () => (!vault.full() || reading()) && session.open() === null;
  /** Locks, unless a case is in work or an entry waits to be written. */
  async function lock(): Promise<void> {
    if (!vault.on() || inWork() || session.unsaved()) return;
    if (session.open()) session.leave();
    started = true;
    await vault.lock();
    session.forget();
  }

  /** Wipes every case, readable or not. What could not be wiped. */
  async function wipeAll(): Promise<Failure[]> {
    const refused: Failure[] = [];
    for (const caseId of await vault.everyCase())
      await session.remove(caseId).catch((error: unknown) => refused.push(failureOf(error)));
    if (refused.length === 0) await vault.leaveNothing().catch((error: unknown) => refused.push(failureOf(error)));
    return refused;
  }
  const reread = (healing: boolean) => openMirroredLog(vault.copies, { writer: healing && writer() });

  return {
    on: vault.on,
    locked,
    report,
    keysFailure: vault.keysFailure,
    inWork,
    secondsLeft: () => vault.secondsLeft(),
    set: vault.set,
    change: vault.change,
    takeOff: vault.takeOff,

    /** Keeps and lets go of keys as cases come and go. Called once the start has resumed what was in work. */
    watch: (): (() => void) =>
      createRoot((end) => {
        const inTurn = serialQueue();
        const working = createMemo(inWork);
        const asked = createMemo(locked);
        createEffect(() => {
          const caseId = working();
          // A passcode set meanwhile counts too.
          vault.on();
          void inTurn(() => (caseId ? vault.keep(caseId) : vault.release()));
        });
        createEffect(() => asked() && session.forget());
        return end;
      }),

    /** Opens all cases; the first time after a start the unfinished one comes up, as it does without a passcode. */
    async unlock(passcode: string): Promise<Tried> {
      setReading(true);
      try {
        const tried = await vault.unlock(passcode);
        if (!tried.ok) return tried;
        const opened = await reread(true);
        session.adopt(opened.cases);
        setReport(opened.report);
        const unfinished = started ? null : session.unfinished();
        started = true;
        if (unfinished && writer()) session.resume(unfinished);
        return tried;
      } finally {
        setReading(false);
      }
    },

    lock,
    /** Locks after idle time; never while a case is in work. */
    watchIdle: (): (() => void) =>
      watchIdle(
        () => (vault.on() && !locked() && !inWork() ? idleMinutes() * 60_000 : null),
        () => void lock(),
      ),

    /** Cases beside which a branch lies that was quarantined, and how many entries it has; read from disk. */
    async branches(): Promise<{ caseId: string; entries: number }[]> {
      const { report: told } = await reread(false);
      const count = new Map<string, number>();
      for (const { caseId } of told.quarantined) count.set(caseId, (count.get(caseId) ?? 0) + 1);
      return [...count].map(([caseId, entries]) => ({ caseId, entries }));
    },

    /** Every case of this device as one file, or one case with what lies beside it, read from disk. */
    async backup(
      made: string,
      only?: string,
    ): Promise<{ ok: true; pieces: string[]; cases: number } | { ok: false; reason: Failure }> {
      try {
        const id = newId();
        const lock = vault.on() ? await vault.backupLock(id) : null;
        if (vault.on() && !lock) return { ok: false, reason: { code: 'locked' } };
        const { cases: all, report: told } = await reread(false);
        const cases = all.filter(({ meta }) => only === undefined || meta.caseId === only);
        const { writeBackup } = await backups.load();
        const pieces = await writeBackup(cases, told.quarantined, made, lock && { id, ...lock });
        return { ok: true, pieces, cases: cases.length };
      } catch (error) {
        return { ok: false, reason: failureOf(error) };
      }
    },

    /**
     * Takes a backup in, case by case, each all or nothing. Nothing that is here is replaced; what was taken already
     * stays taken.
     *
     * @param changed what becomes of cases whose chain of seals is broken; left out, nothing is taken while there are
     *   any. `remark` is written behind a case of which the file's head alone tells it
     */
    async takeIn(
      bytes: Uint8Array<ArrayBuffer>,
      passcode?: string,
      changed?: 'leave' | { take: true; remark: string },
    ): Promise<TakenIn> {
      const [{ readBackup }, { joinCase }] = await Promise.all([backups.load(), joining.load()]);
      const read = await readBackup(bytes, passcode);
      if (read.kind !== 'read') return read;
      const { report: told } = await reread(false);
      const quarantined = [...told.quarantined];
      const join = (one: BackedUp) => joinCase(one, session.all(), quarantined, newId);
      const broken = read.cases.filter((one) => one.seals.seals === 'broken' && join(one).what !== 'known');
      if (broken.length && changed === undefined)
        return {
          kind: 'changed',
          cases: broken.map(({ line, entries, seals: { brokenAt } }) => ({
            line,
            label: headlineOf(entries).label,
            brokenAt,
          })),
        };
      const due = read.cases.filter((one) => changed !== 'leave' || !broken.includes(one));
      const count = { new: 0, longer: 0, known: 0, differs: 0 };
      const notStored: Told['notStored'] = [];
      for (const one of due) {
        const step = join(one);
        const byHead = step.what === 'new' && headTells(one.entries, one.head) !== null;
        const remark = byHead && typeof changed === 'object' ? changed.remark : undefined;
        const result: AppendResult =
          step.what === 'known' ? { ok: true, copies: 2 } : await session.take(step.stored, step.quarantined, remark);
        if (!result.ok) notStored.push({ line: one.line, reason: { code: 'not-stored', reason: result.reason } });
        else count[step.what]++;
        if (result.ok)
          quarantined.push(...step.quarantined.map((entry) => ({ caseId: step.stored.meta.caseId, entry })));
      }
      const left = read.cases.length - due.length;
      return { kind: 'taken', count, faults: read.faults, notStored, missing: read.missing, left };
    },

    /** Ids of every case here, readable or not. */
    cases: vault.everyCase,

    wipeAll,

    /** The way out when nobody knows the passcode: all cases and the passcode go. */
    async wipeForgotten(): Promise<Failure[]> {
      const refused = await wipeAll();
      if (refused.length === 0) await vault.forget();
      return refused;
    },
  };
}
