/**
 * The log as the app uses it: two copies, written at the same time, compared at every start. What only one copy holds
 * is said so; what both hold differently is kept twice; what was wiped stays wiped.
 */
import { Failed, failureOf, type Failure } from '../failure.ts';
import { type Disagreement, type Merged, merge } from './merge.ts';
import { serialQueue } from './serial-queue.ts';
import {
  type AppendResult,
  type Copy,
  type CopyContents,
  type CopyName,
  type LogPort,
  type Quarantined,
  type StoredCase,
  ofCopies,
  sameRow,
} from './port.ts';

export interface StartReport {
  /** Entries that one copy had lost and the other gave back. `entries: 0` when only the opening of the case was lost. */
  restored: { caseId: string; entries: number; from: CopyName }[];
  disagreements: Disagreement[];
  damaged: { copy: CopyName; what: Failure }[];
  /** Copies that could not be read or brought up to date, and why. */
  refused: { copy: CopyName; reason: Failure }[];
  /** Branches quarantined, now and at earlier starts. */
  quarantined: Quarantined[];
}

export interface Opened {
  log: LogPort;
  report: StartReport;
  cases: StoredCase[];
}

type Write = { caseId: string; run: (copy: Copy, passed?: () => void) => Promise<AppendResult> };

/**
 * Reads both copies, heals the union back into both, and reports every difference.
 *
 * @param writer false in a window that only follows: nothing is healed
 * @param whileWaiting is shown the database's cases while the journal is still being read; what is opened of them may be
 *   used for those of the result that carry the same list of entries
 * @returns never rejects: a copy that refuses is named in the report, and the other carries on
 * @example (await openMirroredLog({ database: openDatabase(), journal: openJournal() })).report.restored // []
 */
export async function openMirroredLog(
  copies: Record<CopyName, Copy>,
  { writer = true, whileWaiting }: { writer?: boolean; whileWaiting?: (cases: readonly StoredCase[]) => void } = {},
): Promise<Opened> {
  const report: StartReport = { restored: [], disagreements: [], damaged: [], refused: [], quarantined: [] };
  const refused = (copy: CopyName, reason: Failure) => void report.refused.push({ copy, reason });
  const { database, journal, merged } = await readBoth(copies, refused, whileWaiting);
  report.disagreements = merged.disagreements;
  report.quarantined = merged.quarantined;
  const sides: Side[] = [new Side('database', copies.database), new Side('journal', copies.journal)];

  for (const side of sides) {
    const reading = side.name === 'database' ? database : journal;
    if (!reading) side.catchUp = () => bringUpLate(side, copies);
    if (!reading) continue;
    report.damaged.push(...reading.damaged.map((what) => ({ copy: side.name, what })));
    const from: CopyName = side.name === 'database' ? 'journal' : 'database';
    for (const stored of merged.cases) {
      const entries = missingIn(reading, stored);
      if (entries !== undefined && (side.name === 'database' ? journal : database))
        report.restored.push({ caseId: stored.meta.caseId, entries, from });
    }
    if (!writer) continue;
    const reason = await bringUp(side.copy, reading, merged);
    if (reason) side.catchUp = () => bringUpLate(side, copies);
    if (reason) report.refused.push({ copy: side.name, reason });
  }
  return { log: logOf(sides, copies), report, cases: merged.cases };
}

async function readBoth(
  copies: Record<CopyName, Copy>,
  refused: (copy: CopyName, reason: Failure) => void,
  whileWaiting?: (cases: readonly StoredCase[]) => void,
) {
  const read = (name: CopyName) =>
    copies[name].read().catch((error: unknown) => {
      refused(name, failureOf(error));
      return undefined;
    });
  const [inDatabase, inJournal] = [read('database'), read('journal')];
  const database = await inDatabase;
  if (database) whileWaiting?.(database.cases);
  const journal = await inJournal;
  return { database, journal, merged: merge(database, journal) };
}

/** How many entries of a case a copy lacks; undefined when it lacks nothing. */
function missingIn(reading: CopyContents, stored: StoredCase): number | undefined {
  const held = reading.cases.find((c) => c.meta.caseId === stored.meta.caseId);
  if (!held) return stored.entries.length;
  const numbers = new Set(held.entries.map((entry) => entry.n));
  const lacks = stored.entries.filter((entry) => !numbers.has(entry.n));
  return lacks.length || (held.meta.created || !stored.meta.created ? undefined : 0);
}

/** Heals a copy where it differs. The first refusal ends it and is returned. */
async function bringUp(copy: Copy, reading: CopyContents, merged: Merged): Promise<Failure | undefined> {
  for (const caseId of merged.removed) {
    if (reading.removed.includes(caseId)) continue;
    try {
      await copy.remove(caseId);
    } catch (error) {
      return failureOf(error);
    }
  }
  for (const stored of merged.cases) {
    const quarantined = merged.quarantined.filter((q) => q.caseId === stored.meta.caseId).map((q) => q.entry);
    if (holds(reading, stored, merged)) continue;
    const result = await copy.heal(stored, quarantined);
    if (!result.ok) return result.reason;
  }
  return undefined;
}

/** Does later what could not be done at the start: reads again and heals. The reason when it still can't be. */
async function bringUpLate({ name, copy }: Side, copies: Record<CopyName, Copy>): Promise<Failure | undefined> {
  let refusal: Failure | undefined;
  const read = await readBoth(copies, (of, reason) => (refusal = of === name ? reason : refusal));
  const reading = read[name];
  return reading ? bringUp(copy, reading, read.merged) : refusal;
}

function holds(reading: CopyContents, { meta, entries }: StoredCase, { quarantined, alike }: Merged): boolean {
  const held = reading.cases.find((c) => c.meta.caseId === meta.caseId);
  if (!held || held.entries.length !== entries.length || (!held.meta.created && meta.created)) return false;
  const wanted = quarantined.filter((q) => q.caseId === meta.caseId).length;
  return (
    wanted === reading.quarantined.filter((q) => q.caseId === meta.caseId).length &&
    (alike.has(meta.caseId) || entries.every((entry, i) => sameRow(entry, held.entries[i] ?? entry)))
  );
}

/** One copy, with the writes it still owes to each case. */
class Side {
  private readonly owed = new Map<string, Write[]>();
  /** Set while the copy may lack what was recorded before this start: until it is made up for, it doesn't count. */
  catchUp: (() => Promise<Failure | undefined>) | undefined;
  constructor(
    readonly name: CopyName,
    readonly copy: Copy,
  ) {}

  /** Makes up for what was refused before, in order, then writes; stops at the first refusal. */
  async write(write: Write, passed?: () => void): Promise<AppendResult> {
    const owed = [...(this.owed.get(write.caseId) ?? []), write];
    this.owed.set(write.caseId, owed);
    const behind = await this.catchUp?.();
    if (behind !== undefined) return { ok: false, reason: behind };
    this.catchUp = undefined;
    for (let next = owed[0]; next; next = owed[0]) {
      const result = await next.run(this.copy, next === write ? passed : undefined);
      if (!result.ok) return result;
      owed.shift();
    }
    return { ok: true, copies: 1 };
  }

  /** The user was told that this was not recorded, so it must not be written later. */
  forget(write: Write): void {
    const owed = this.owed.get(write.caseId) ?? [];
    this.owed.set(
      write.caseId,
      owed.filter((one) => one !== write),
    );
  }

  forgetCase(caseId: string): void {
    this.owed.delete(caseId);
  }
}

function logOf(sides: Side[], copies: Record<CopyName, Copy>): LogPort {
  /** What a copy owes is made up for in order. */
  const inTurn = serialQueue();

  /**
   * The database first: in its transaction it is settled whether this window still holds the cases. The journal writes
   * what the database let pass, while that is being committed, so that a window that lost them leaves nothing in either.
   */
  async function writeBoth(write: Write): Promise<AppendResult> {
    const [database, journal] = sides as [Side, Side];
    const lost = (result: AppendResult) => !result.ok && result.reason.code === 'not-holder';
    let mayWrite: () => void = () => {};
    const passed = new Promise<undefined>((resolve) => (mayWrite = () => resolve(undefined)));
    const inDatabase = database.write(write, mayWrite);
    const first = await Promise.race([passed, inDatabase]);
    if (first && lost(first)) {
      for (const side of sides) side.forget(write);
      return first;
    }
    const results = await Promise.all([inDatabase, journal.write(write)]);
    const refused = results.flatMap((result, i) =>
      result.ok ? [] : [{ side: sides[i] as Side, reason: result.reason }],
    );
    const [one, other] = refused;
    if (!one) return { ok: true, copies: 2 };
    if (!other) return { ok: true, copies: 1, missing: one.side.name, reason: one.reason };
    for (const side of sides) side.forget(write);
    return { ok: false, reason: ofCopies(refused.map(({ side, reason }) => [side.name, reason])) };
  }

  return {
    async list() {
      const refused: [CopyName, Failure][] = [];
      const { database, journal, merged } = await readBoth(copies, (copy, reason) => refused.push([copy, reason]));
      if (!database && !journal) throw new Failed(ofCopies(refused));
      return merged.cases;
    },
    create: (meta) => inTurn(() => writeBoth({ caseId: meta.caseId, run: (copy) => copy.create(meta) })),
    append: (caseId, entry) =>
      inTurn(() => writeBoth({ caseId, run: (copy, passed) => copy.append(caseId, entry, passed) })),
    heal: (stored, quarantined) =>
      inTurn(() => writeBoth({ caseId: stored.meta.caseId, run: (copy) => copy.heal(stored, quarantined) })),
    remove: (caseId) =>
      inTurn(async () => {
        for (const side of sides) side.forgetCase(caseId);
        const ends: PromiseSettledResult<void>[] = [];
        for (const side of sides) {
          const [end] = await Promise.allSettled([side.copy.remove(caseId)]);
          if (end.status === 'rejected' && failureOf(end.reason).code === 'not-holder') throw end.reason;
          ends.push(end);
        }
        const refused = ends.flatMap((end, i) =>
          end.status === 'rejected' ? [[(sides[i] as Side).name, failureOf(end.reason)] as const] : [],
        );
        if (refused.length) throw new Failed({ code: 'not-wiped', reason: ofCopies(refused) });
      }),
    close: () => inTurn(async () => void (await Promise.all(sides.map((side) => side.copy.close())))),
  };
}
