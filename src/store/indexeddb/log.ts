/**
 * The first copy: IndexedDB. Every write is one transaction of its own with `durability: 'strict'`, and counts when the
 * transaction is complete. A request's own success says nothing: writes acknowledged by it were lost in kills.
 */
import type { Entry } from '../../../machines/entry.ts';
import { Failed, failureOf } from '../../failure.ts';
import { HOLDER, QUARANTINE, commit, isClosed, open, type Work } from './connection.ts';
import { remake } from './remake.ts';
import { type DatabaseRow, entriesIn, gatherable, rowOf } from './rows.ts';
import {
  type CaseMeta,
  type Copy,
  type CopyContents,
  type Quarantined,
  type StoredCase,
  type StoredRow,
  blankMeta,
  sameMeta,
  sameRow,
  settle,
} from '../port.ts';

/** Everything at once may take so many times as long as one entry. */
const LONG = 10;

export interface DatabaseOptions {
  name?: string;
  factory?: IDBFactory;
  /** ms until an unanswered write counts as refused; reading and healing everything may take ten times that. */
  timeoutMs?: number;
  /** So many rows of a case stand singly before they are gathered. */
  many?: number;
  /**
   * A random token of this window as long as it holds the cases, null when it does not: then nothing is written. Left
   * out: whoever asks may write.
   */
  holder?: () => string | null;
}

export interface Database<Row = Entry> extends Copy<Row> {
  /**
   * Gathers the rows of one case in which many stand singly; for a quiet moment. Nothing that is read changes by it.
   *
   * @returns false when there was nothing to gather, or it was refused: then all is as it was
   */
  gather(): Promise<boolean>;
  /**
   * Makes the token of this window the one that may write; every write checks it within its own transaction. What another
   * window had under way is in what is read after this call, and what it begins later is refused. Rejects with a `Failed`.
   */
  claim(): Promise<void>;
}

/**
 * Opens lazily: the first call that needs the connection makes it.
 *
 * @returns a copy whose writes resolve on commit, and whose every failure is a code
 * @example await openDatabase().append(caseId, entry) // { ok: true, copies: 1 }
 */
export function openDatabase<Row extends StoredRow = Entry>({
  name = 'counterturn',
  factory = globalThis.indexedDB,
  timeoutMs = 4000,
  many = 64,
  holder,
}: DatabaseOptions = {}): Database<Row> {
  let connection: Promise<IDBDatabase> | undefined;
  /** How many rows of a case stand singly, as far as is known here. */
  const single = new Map<string, number>();
  const counted = (caseId: string, more: number) => single.set(caseId, (single.get(caseId) ?? 0) + more);

  function connect(): Promise<IDBDatabase> {
    connection ??= open(factory, name, timeoutMs, () => (connection = undefined));
    return connection;
  }

  let claimed = false;
  /** Refuses what a window writes that another one took over from. */
  function insistHolder({ store, get }: Work, passed: () => void = () => {}): void {
    if (!holder) return passed();
    const token = holder();
    if (token === null) throw new Failed({ code: 'not-holder' });
    const own = { of: 'writer', token };
    get(store(HOLDER).get(own.of) as IDBRequest<typeof own | undefined>, (there) => {
      // Nobody's: the database was emptied or made anew meanwhile. Not claimed yet: it could not be written at the start.
      if (!there || !claimed) store(HOLDER).put(own);
      else if (there.token !== token) throw new Failed({ code: 'not-holder' });
      passed();
    });
  }

  /** A transaction that writes, by the window that holds the cases alone. */
  async function change(work: (tx: Work) => void, wait = timeoutMs, passed?: () => void): Promise<void> {
    await transact(
      'readwrite',
      (tx) => {
        insistHolder(tx, passed);
        work(tx);
      },
      wait,
    );
    claimed = true;
  }

  /** One transaction. A connection that was closed under us is opened again, once. */
  async function transact(mode: IDBTransactionMode, work: (tx: Work) => void, wait = timeoutMs): Promise<void> {
    const fresh = connection === undefined;
    try {
      await commit(await connect(), mode, wait, work);
    } catch (error) {
      connection = isClosed(error) ? undefined : connection;
      if (connection || fresh) throw error;
      await commit(await connect(), mode, wait, work);
    }
  }

  async function read(): Promise<CopyContents<Row>> {
    const cases = new Map<string, StoredCase<Row>>();
    const contents: CopyContents<Row> = { cases: [], removed: [], quarantined: [], damaged: [] };
    const work = ({ store, get }: Work) => {
      cases.clear();
      single.clear();
      get(store('cases').getAll() as IDBRequest<CaseMeta[]>, (metas) => {
        for (const meta of metas) cases.set(meta.caseId, { meta, entries: [] });
      });
      // Keys run [caseId, n], so each case's entries come in order of n.
      get(store('entries').getAll() as IDBRequest<DatabaseRow<Row>[]>, (rows) => {
        for (const row of rows) {
          const { caseId } = row;
          if (!row.more) counted(caseId, 1);
          const held = cases.get(caseId) ?? { meta: blankMeta(caseId), entries: [] };
          cases.set(caseId, held);
          held.entries.push(...entriesIn(row));
        }
      });
      get(store('removed').getAllKeys(), (keys) => (contents.removed = keys.map(String)));
      get(store(QUARANTINE).getAll() as IDBRequest<Quarantined<Row>[]>, (rows) => (contents.quarantined = rows));
    };
    await transact('readonly', work, timeoutMs * LONG);
    return { ...contents, cases: [...cases.values()] };
  }

  /** Everything that is stored, in one transaction, in the place of what was. */
  const fill = ({ cases, removed, quarantined }: CopyContents<Row>): Promise<void> =>
    change(({ store }) => {
      for (const name of ['cases', 'entries', QUARANTINE]) store(name).clear();
      for (const caseId of removed) store('removed').put({ caseId });
      for (const { meta, entries } of cases) {
        store('cases').add(meta);
        for (const entry of entries) store('entries').add(rowOf(meta.caseId, entry));
        single.set(meta.caseId, entries.length);
      }
      for (const one of quarantined) store(QUARANTINE).put(quarantineRow(one));
    }, timeoutMs * LONG);

  async function closed(): Promise<void> {
    const open = connection;
    connection = undefined;
    // One that never opened needs no closing; whoever asked for it was told.
    await open?.then((db) => db.close()).catch(() => {});
  }

  const write = (caseId: string, work: (tx: Work) => void, wait = timeoutMs) => {
    const unlessWiped = (tx: Work) =>
      tx.get(tx.store('removed').getKey(caseId), (key) => {
        refuseWiped(key);
        work(tx);
      });
    return settle(change(unlessWiped, wait));
  };

  return {
    read: () => read().catch(failed),
    list: () => read().then((r) => r.cases, failed),
    create: (meta) =>
      write(meta.caseId, ({ store, get }) =>
        get(store('cases').get(meta.caseId) as IDBRequest<CaseMeta | undefined>, (there) => {
          if (there && !sameMeta(there, meta)) throw new Failed({ code: 'case-there' });
          if (!there) store('cases').add(meta);
        }),
      ),
    // Written and read in one go: each answer waited for costs a busy page one more turn. What must not stand takes
    // the whole transaction back.
    append: (caseId, entry, passed) =>
      settle(
        change(
          ({ store, get, add }) => {
            get(store('cases').getKey(caseId), (key) => {
              if (key !== undefined) return;
              get(store('removed').getKey(caseId), (wiped) => {
                refuseWiped(wiped);
                throw new Failed({ code: 'case-unknown' });
              });
            });
            const insistSame = (there: Row | undefined) => {
              if (there && !sameRow(there, entry)) throw new Failed({ code: 'entry-there', n: entry.n });
            };
            const rows = store('entries');
            add(rows, rowOf(caseId, entry), () =>
              get(rows.get([caseId, entry.n]) as IDBRequest<DatabaseRow<Row> | undefined>, (there) =>
                insistSame(there?.entry),
              ),
            );
            // Behind an entry that was gathered stands another one, always.
            get(rows.getKey(IDBKeyRange.bound([caseId, entry.n], [caseId, []], true)), (later) => {
              if (later === undefined) return;
              get(
                rows.getAll(IDBKeyRange.bound([caseId], [caseId, entry.n], false, true)) as IDBRequest<
                  DatabaseRow<Row>[]
                >,
                (all) => {
                  const there = all.flatMap(({ more }) => more ?? []).find(({ n }) => n === entry.n);
                  insistSame(there);
                  if (there) rows.delete([caseId, entry.n]);
                },
              );
            });
          },
          timeoutMs,
          passed,
        ).then(() => counted(caseId, 1)),
      ),
    heal: ({ meta, entries }, quarantined) =>
      write(
        meta.caseId,
        ({ store, get }) => {
          const quarantine = (entry: Row) => store(QUARANTINE).put(quarantineRow({ caseId: meta.caseId, entry }));
          quarantined.forEach(quarantine);
          get(store('cases').get(meta.caseId) as IDBRequest<CaseMeta | undefined>, (there) => {
            if (!there?.created) store('cases').put(meta);
          });
          const whole = rowsOf(meta.caseId);
          get(store('entries').getAll(whole) as IDBRequest<DatabaseRow<Row>[]>, (rows) => {
            const there = new Map<number, Row>();
            let twice = false;
            for (const entry of rows.flatMap(entriesIn)) {
              const first = there.get(entry.n);
              if (!first) there.set(entry.n, entry);
              else if (!sameRow(first, entry)) quarantine(entry);
              twice ||= first !== undefined;
            }
            const wanted = entries.filter((entry) => {
              const stands = there.get(entry.n);
              return !stands || !sameRow(stands, entry);
            });
            if (wanted.length === 0 && !twice) return;
            for (const { n } of wanted) if (there.has(n)) quarantine(there.get(n) as Row);
            for (const entry of wanted) there.set(entry.n, entry);
            // Singly again: an entry that is quarantined may lie in the middle of a row.
            const gathered = rows.some(({ more }) => more);
            if (gathered) store('entries').delete(whole);
            for (const entry of gathered ? there.values() : wanted) store('entries').put(rowOf(meta.caseId, entry));
            counted(meta.caseId, gathered ? there.size : wanted.length);
          });
        },
        timeoutMs * LONG,
      ),
    replace: (contents, { leaveNothing } = { leaveNothing: false }) => {
      if (!leaveNothing) return fill(contents).catch(failed);
      return closed()
        .then(() => remake(factory, name, () => fill(contents), timeoutMs * LONG))
        .catch(failed);
    },
    remove: (caseId) =>
      change(({ store }) => {
        store('removed').put({ caseId });
        store('cases').delete(caseId);
        for (const rows of ['entries', QUARANTINE]) store(rows).delete(rowsOf(caseId));
      }).catch(failed),
    async gather() {
      const [caseId] = [...single].find(([, rows]) => rows > many) ?? [];
      if (caseId === undefined) return false;
      single.delete(caseId);
      return change(({ store, get }) => {
        const whole = rowsOf(caseId);
        get(store('entries').getAll(whole) as IDBRequest<DatabaseRow<Row>[]>, (rows) => {
          for (const { from, to, row } of gatherable(rows)) {
            store('entries').delete(IDBKeyRange.bound([caseId, from], [caseId, to]));
            store('entries').add(row);
          }
        });
      }).then(
        () => true,
        // Nothing is lost by it: the rows stand singly, and a later quiet moment tries again.
        () => false,
      );
    },
    claim: () => change(() => {}).catch(failed),
    close: closed,
  };
}

/** The key of a quarantined entry has its seal, since several branches may have had the same number. */
const quarantineRow = <Row extends StoredRow>({ caseId, entry }: Quarantined<Row>) => ({
  caseId,
  n: entry.n,
  seal: entry.seal ?? '',
  entry,
});

/** The keys of everything that is kept of a case, beside its opening. */
const rowsOf = (caseId: string) => IDBKeyRange.bound([caseId], [caseId, []]);

function refuseWiped(key: IDBValidKey | undefined): void {
  if (key !== undefined) throw new Failed({ code: 'case-wiped' });
}

/** Whatever the browser threw, told by its code. */
function failed(error: unknown): never {
  throw new Failed(failureOf(error));
}
