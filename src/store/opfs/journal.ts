/**
 * The second copy: an append-only journal in the origin-private file system, written by a worker. It exists because a
 * browser was seen to empty a whole origin's databases, two starts after a kill had torn their log, without a word.
 */
import type { Entry } from '../../../machines/entry.ts';
import { Failed, failureOf, type Failure } from '../../failure.ts';
import { besideName } from './beside.ts';
import { replyOf, type Call, type Reply, type Request } from './journal-messages.ts';
import { type Copy, type CopyContents, type StoredRow, settle } from '../port.ts';

/** What the journal needs of a worker. */
export interface JournalWorker {
  postMessage(request: Request): void;
  onmessage: ((event: MessageEvent<Reply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

export interface JournalOptions {
  folder?: string;
  /** False in a window that only follows: it reads without holding or mending the files. */
  writer?: () => boolean;
  /** This window, as the browser lists it among those that hold locks; undefined where it does not. */
  holder?: () => string | undefined;
  /** ms until an unanswered request counts as refused; reading, healing and wiping may take ten times that. */
  timeoutMs?: number;
  /** ms for which a worker that did not answer is left alone before another one is tried. */
  rest?: number;
  makeWorker?: () => JournalWorker;
  /** Starts the thread at once. It touches no file before it is asked. */
  early?: boolean;
}

export interface Journal<Row = Entry> extends Copy<Row> {
  /**
   * A few bytes that belong to no case, in a file of their own: written in place over what was there, and flushed. Rejects
   * with a `Failed`.
   */
  overwrite(bytes: Uint8Array): Promise<void>;
  /** Those bytes; none when there never were any. */
  overwritten(): Promise<Uint8Array<ArrayBuffer>>;
}

const ownWorker = (): JournalWorker => new Worker(new URL('./journal.worker.ts', import.meta.url), { type: 'module' });

/**
 * @returns a copy whose writes resolve after the flush; it never waits longer than `timeoutMs`
 * @example await openJournal().append(caseId, entry) // { ok: true, copies: 1 }
 */
export function openJournal<Row extends StoredRow = Entry>(options: JournalOptions = {}): Journal<Row> {
  const {
    folder = 'counterturn-log',
    writer = () => true,
    holder = () => undefined,
    timeoutMs = 3000,
    rest = 30_000,
  } = options;
  const { makeWorker = ownWorker } = options;
  const waiting = new Map<
    number,
    { resolve: (contents?: CopyContents<Row>) => void; reject: (error: unknown) => void }
  >();
  let worker: JournalWorker | undefined;
  let restUntil = 0;
  let ids = 0;

  function start(): JournalWorker {
    const made = makeWorker();
    made.onmessage = (event) => {
      let data: Reply;
      try {
        data = replyOf(event.data);
      } catch (error) {
        return giveUp(failureOf(error));
      }
      const waiter = waiting.get(data.id);
      waiting.delete(data.id);
      if ('reason' in data) waiter?.reject(new Failed(data.reason));
      else waiter?.resolve(data.contents === undefined ? undefined : (JSON.parse(data.contents) as CopyContents<Row>));
    };
    made.onerror = (event) => giveUp({ code: 'journal-failed', detail: event.message });
    return made;
  }

  /** Everybody who waits is refused, and the thread is replaced at the next call after a rest. */
  function giveUp(reason: Failure): void {
    worker?.terminate();
    worker = undefined;
    restUntil = performance.now() + rest;
    for (const { reject } of waiting.values()) reject(new Failed(reason));
    waiting.clear();
  }

  function ask(call: Call): Promise<CopyContents<Row> | undefined> {
    return new Promise((resolve, reject) => {
      if (performance.now() < restUntil) throw new Failed({ code: 'journal-rests' });
      worker ??= start();
      const id = ++ids;
      const wait = ['add', 'close', 'overwrite'].includes(call.call) ? timeoutMs : timeoutMs * 10;
      const timer = setTimeout(() => giveUp({ code: 'journal-slow', seconds: wait / 1000 }), wait);
      const done = (step: () => void) => {
        clearTimeout(timer);
        step();
      };
      waiting.set(id, {
        resolve: (contents) => done(() => resolve(contents)),
        reject: (error) => done(() => reject(error)),
      });
      const own = holder();
      worker.postMessage({ ...call, id, folder, until: Date.now() + wait, ...(own !== undefined && { holder: own }) });
    });
  }

  if (options.early)
    try {
      worker = start();
    } catch {
      // The first call tries again and reports the failure.
    }

  const change = (call: Call) => (writer() ? ask(call) : Promise.reject(new Failed({ code: 'reads-only' })));
  const read = async () => (await ask({ call: writer() ? 'read' : 'peek' })) as CopyContents<Row>;

  return {
    read,
    list: async () => (await read()).cases,
    create: (meta) => settle(change({ call: 'add', line: { kind: 'case', meta } })),
    append: (caseId, entry) => settle(change({ call: 'add', line: { kind: 'entry', caseId, entry } })),
    heal: (stored, quarantined) => settle(change({ call: 'heal', stored, quarantined })),
    replace: (contents) => change({ call: 'replace', contents }).then(() => {}),
    remove: (caseId) => change({ call: 'remove', caseId }).then(() => {}),
    overwrite: (bytes) => change({ call: 'overwrite', bytes }).then(() => {}),
    async overwritten() {
      if (!navigator.storage?.getDirectory) throw new Failed({ code: 'no-files' });
      const directory = await (await navigator.storage.getDirectory()).getDirectoryHandle(folder, { create: true });
      const file = await directory.getFileHandle(besideName, { create: true });
      return new Uint8Array(await (await file.getFile()).arrayBuffer());
    },
    async close() {
      // The thread is ended either way, and its files with it.
      if (worker) await ask({ call: 'close' }).catch(() => {});
      worker?.terminate();
      worker = undefined;
    },
  };
}
