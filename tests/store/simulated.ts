/** Stand-ins for what Node lacks: files of the private file system in memory, and the journal's worker on them. */
import { type DatabaseOptions, openDatabase } from '../../src/store/indexeddb/log.ts';
import type { JournalWorker } from '../../src/store/opfs/journal.ts';
import { requestOf, type Reply, type Request } from '../../src/store/opfs/journal-messages.ts';
import { failureOf } from '../../src/failure.ts';
import type { Copy } from '../../src/store/port.ts';
import { type JournalFile, JournalFiles } from '../../src/store/opfs/journal-files.ts';

/** A file in memory. `refuse` makes the next writes fail after so many bytes. */
export class MemoryFile implements JournalFile {
  bytes = new Uint8Array();
  flushed = 0;
  refuse: { after: number } | undefined;
  read = () => this.bytes.slice();
  size = () => this.bytes.length;
  append(bytes: Uint8Array): void {
    const part = this.refuse ? bytes.subarray(0, this.refuse.after) : bytes;
    this.bytes = Uint8Array.from([...this.bytes, ...part]);
    if (this.refuse) throw new DOMException('', 'QuotaExceededError');
  }
  truncate(size: number): void {
    this.bytes = this.bytes.slice(0, size);
  }
  flush(): void {
    this.flushed = this.bytes.length;
  }
  close(): void {}
}

export const files = (): [MemoryFile, MemoryFile] => [new MemoryFile(), new MemoryFile()];

/** A worker on two files in memory that answers as the real one does. `mute` swallows the requests. */
export function simulatedWorker(
  slots: readonly [JournalFile, JournalFile],
  state: { mute?: boolean; started?: number } = {},
): JournalWorker {
  state.started = (state.started ?? 0) + 1;
  let journal: JournalFiles | undefined;
  const worker: JournalWorker = {
    onmessage: null,
    onerror: null,
    terminate: () => (worker.onmessage = null),
    postMessage(request: Request) {
      if (state.mute) return;
      const reply = answer(requestOf(structuredClone(request)));
      setTimeout(() => worker.onmessage?.({ data: structuredClone(reply) } as MessageEvent<Reply>));
    },
  };
  return worker;

  function answer(request: Request): Reply {
    try {
      journal ??= new JournalFiles(slots);
      if (request.call === 'read') return { id: request.id, contents: JSON.stringify(journal.read()) };
      if (request.call === 'add') journal.add(request.line);
      if (request.call === 'heal') journal.heal(request.stored, request.quarantined);
      if (request.call === 'replace') journal.replace(request.contents);
      if (request.call === 'remove') journal.remove(request.caseId);
      if (request.call === 'close') journal = undefined;
      return { id: request.id };
    } catch (error) {
      return { id: request.id, reason: failureOf(error) };
    }
  }
}

/** A database in which nothing but the last entry ever keeps a row of its own. Runs in pages too. */
export function gathering(options: DatabaseOptions): Copy {
  const database = openDatabase({ ...options, many: 1 });
  const after =
    <A extends unknown[], R>(write: (...args: A) => Promise<R>) =>
    async (...args: A): Promise<R> => {
      const result = await write(...args);
      while (await database.gather());
      return result;
    };
  return {
    ...database,
    read: after(database.read),
    create: after(database.create),
    append: after(database.append),
    heal: after(database.heal),
    replace: after(database.replace),
  };
}
