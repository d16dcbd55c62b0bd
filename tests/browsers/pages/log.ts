/** A page with nothing but the log on it, for tests in real engines: `window.logPage`. */
import type { Entry } from '../../../machines/entry.ts';
import { verify } from '../../../machines/seal.ts';
import { claimWriter, holderId } from '../../../src/device/single-writer.ts';
import { openDatabase } from '../../../src/store/indexeddb/log.ts';
import { openJournal } from '../../../src/store/opfs/journal.ts';
import type { AppendResult, LogPort, StoredCase } from '../../../src/store/port.ts';
import { openMirroredLog } from '../../../src/store/mirrored-log.ts';
import { rules } from '../../store/acceptance.ts';
import { createSession } from '../../../src/session/session.ts';
import { chain, metaOf, next } from '../../store/chain.ts';
import { gathering } from '../../store/simulated.ts';

declare global {
  interface Window {
    logPage: typeof logPage;
    acked?: (caseId: string, n: number, copies: number) => void;
    begun?: () => Promise<void>;
  }
}

export type LogKind = 'database' | 'gathered' | 'journal' | 'both';
let log: LogPort;
const written = new Map<string, Entry[]>();
/** Stores of its own for each test: `log.html?stores=…`. */
const stores = new URLSearchParams(location.search).get('stores') ?? 'counterturn';
/** The one that writes here, with its rows gathered often, so that kills hit that as well. */
const kept = openDatabase({ name: stores, many: 5 });
const database = () => openDatabase({ name: stores });
const journal = (writer = true) => openJournal({ folder: stores, writer: () => writer });

const openers = (key: string) => ({
  database: async (): Promise<LogPort> => openDatabase({ name: key }),
  gathered: async (): Promise<LogPort> => gathering({ name: key }),
  journal: async (): Promise<LogPort> => openJournal({ folder: key }),
  both: async () =>
    (await openMirroredLog({ database: openDatabase({ name: key }), journal: openJournal({ folder: key }) })).log,
});

const held = (cases: StoredCase[]) =>
  Object.fromEntries(
    cases.map(({ meta, entries }) => [
      meta.caseId,
      verify(entries).seals === 'whole' ? entries.length : entries.length ? -entries.length : 0,
    ]),
  );

export const logPage = {
  /** Runs every rule on fresh stores of their own; gives the name of each and what broke it. */
  async acceptance(kind: LogKind) {
    const results: { name: string; error?: string }[] = [];
    for (const [i, rule] of rules.entries()) {
      const opened: LogPort[] = [];
      const open = openers(`rule-${kind}-${i}`)[kind];
      const track = async () => {
        opened.push(await open());
        return opened.at(-1) as LogPort;
      };
      const error = await rule.run(track).then(
        () => undefined,
        (reason: unknown) => String(reason),
      );
      await Promise.all(opened.map((one) => one.close()));
      results.push({ name: rule.name, ...(error && { error }) });
    }
    return results;
  },

  /** Can a worker here write files of the private file system at once? */
  async hasFiles() {
    const own = journal();
    const read = await own.read().then(
      () => true,
      () => false,
    );
    await own.close();
    return read;
  },

  /** Opens the app's log. `held` counts each case's entries, below zero when its chain of seals is broken. */
  async start({ writer = true } = {}) {
    const {
      log: opened,
      report,
      cases,
    } = await openMirroredLog({ database: kept, journal: journal(writer) }, { writer });
    log = opened;
    for (const { meta, entries } of cases) written.set(meta.caseId, entries);
    return { report, held: held(cases) };
  },

  /** What each copy holds by itself. */
  async eachCopy() {
    const copies = { database: database(), journal: journal(false) };
    const read = async (name: keyof typeof copies) => held((await copies[name].read()).cases);
    return { database: await read('database'), journal: await read('journal') };
  },

  /** Appends `count` entries, opening the case first when it is new; gives the results as they came. */
  async write(caseId: string, count: number, text = 'Kopf frei ✓'): Promise<AppendResult[]> {
    const entries = written.get(caseId) ?? [];
    const results: AppendResult[] = [];
    if (!written.has(caseId)) results.push(await log.create(metaOf(caseId)));
    written.set(caseId, entries);
    for (let i = 0; i < count; i++) {
      const entry = next(entries, { type: 'remark', text });
      const result = await log.append(caseId, entry);
      results.push(result);
      if (result.ok) entries.push(entry);
    }
    return results;
  },

  /** Writes without a pause until the page dies; `acked` hears of each entry once it is recorded. */
  async writeForever(caseId: string) {
    for (;;) {
      const [result] = (await logPage.write(caseId, 1)).slice(-1);
      // Not waited for: the next entry is written while the rows are being gathered.
      void kept.gather();
      if (result?.ok) window.acked?.(caseId, written.get(caseId)?.length ?? 0, result.copies);
    }
  },

  /**
   * Brings whole cases of so many entries in, without a pause until the page dies; `begun` hears of each before it is
   * written, `acked` of each that is stored.
   */
  async importForever(entries: number) {
    const session = createSession({
      log,
      stored: [],
      now: () => new Date().toISOString(),
      newId: () => crypto.randomUUID(),
    });
    const brought = chain(entries);
    for (;;) {
      await window.begun?.();
      const result = await session.bringIn('2026.1', brought);
      const { caseId } = session.all().at(-1)?.meta ?? {};
      if (result.ok && caseId) window.acked?.(caseId, entries, result.copies);
    }
  },

  /**
   * Takes the writing over, as a start does; from a window that holds it still, when told to. What that one has under way
   * is in what this one reads, or refused.
   */
  async takeOver({ steal }: { steal: boolean }) {
    const stealing = {
      request: (name: string, _: LockOptions, work: LockGrantedCallback<unknown>) =>
        navigator.locks.request(name, { steal: true }, work),
    } as unknown as LockManager;
    const claim = await claimWriter(10_000, steal ? stealing : navigator.locks);
    const [token, own] = [crypto.randomUUID(), await holderId()];
    const database = openDatabase({ name: stores, holder: () => (claim.holds() ? token : null) });
    const beside = openJournal({ folder: stores, writer: () => claim.holds(), holder: () => own });
    claim.onLost(() => void beside.close());
    await database.claim();
    const opened = await openMirroredLog({ database, journal: beside });
    log = opened.log;
    written.clear();
    for (const { meta, entries } of opened.cases) written.set(meta.caseId, entries);
    const { disagreements, quarantined } = opened.report;
    return { held: held(opened.cases), disagreements: disagreements.length, quarantined: quarantined.length };
  },

  /** Writes without a pause until a write is refused; `acked` hears of each entry. Why it was refused. */
  async writeUntilRefused(caseId: string): Promise<string> {
    for (;;) {
      const result = (await logPage.write(caseId, 1)).at(-1);
      if (!result?.ok) return result?.reason.code ?? '';
      window.acked?.(caseId, written.get(caseId)?.length ?? 0, result.copies);
    }
  },

  /** Does this window get to write? Held until the window goes. */
  claim: async () => (await claimWriter(500)).writer,

  remove: (caseId: string) => log.remove(caseId),
  close: () => log.close(),

  /** A longer or other branch for one copy alone, past what both hold. */
  async branch(copy: 'database' | 'journal', caseId: string, count: number, text: string) {
    const alone = copy === 'database' ? database() : journal();
    const entries = [...(written.get(caseId) ?? [])];
    for (let i = 0; i < count; i++) {
      const entry = next(entries, { type: 'remark', text });
      await alone.append(caseId, entry);
      entries.push(entry);
    }
    await alone.close();
  },

  /** Empties one copy behind the log's back. */
  async empty(copy: 'database' | 'journal') {
    await log.close();
    if (copy === 'database')
      return new Promise<void>((resolve, reject) => {
        const request = indexedDB.deleteDatabase(stores);
        request.onsuccess = () => resolve();
        request.onerror = () => reject(request.error ?? new Error('given up without a reason'));
      });
    const root = await navigator.storage.getDirectory();
    await root.removeEntry(stores, { recursive: true });
  },

  /** Cuts bytes off the journal's filled file, or changes one in the middle of it. */
  async damageJournal(how: { cut: number } | { at: number }) {
    await log.close();
    const directory = await (await navigator.storage.getDirectory()).getDirectoryHandle(stores);
    for (const name of ['a.jsonl', 'b.jsonl']) {
      const handle = await directory.getFileHandle(name);
      const bytes = new Uint8Array(await (await handle.getFile()).arrayBuffer());
      if (bytes.length === 0) continue;
      if ('at' in how) bytes[how.at] = (bytes[how.at] as number) ^ 1;
      const writable = await handle.createWritable();
      await writable.write('cut' in how ? bytes.subarray(0, bytes.length - how.cut) : bytes);
      await writable.close();
    }
  },
};

window.logPage = logPage;
