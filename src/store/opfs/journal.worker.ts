/**
 * The journal's own thread: files of the origin-private file system allow synchronous, flushed writes only here.
 * A request is answered after the flush, never before.
 */
import { isHeldBy } from '../../device/single-writer.ts';
import { Failed, failureOf } from '../../failure.ts';
import { serialQueue } from '../serial-queue.ts';
import { peek, type JournalFile, JournalFiles } from './journal-files.ts';
import { besideName } from './beside.ts';
import { idOf, requestOf, type Request, type Reply } from './journal-messages.ts';

interface SyncFile {
  read(into: Uint8Array, options: { at: number }): number;
  write(from: Uint8Array, options: { at: number }): number;
  getSize(): number;
  truncate(size: number): void;
  flush(): void;
  close(): void;
}

const scope = globalThis as unknown as {
  onmessage: (event: MessageEvent<unknown>) => void;
  postMessage(reply: Reply): void;
};

/** ms to wait for a window that is just going away to let go of the files. */
const TIMEOUT_MS = 2000;
let files: Promise<JournalFiles> | undefined;
const inTurn = serialQueue();

scope.onmessage = ({ data }) => {
  void inTurn(async () => scope.postMessage(await answer(data)));
};

async function answer(message: unknown): Promise<Reply> {
  const id = idOf(message);
  try {
    const request = requestOf(message);
    // The page has already told the user that this one failed: it must not be written after all.
    if (Date.now() > request.until) throw new Failed({ code: 'too-late' });
    const contents = await serve(request);
    return { id, ...(contents && { contents: JSON.stringify(contents) }) };
  } catch (error) {
    return { id, reason: failureOf(error) };
  }
}

async function serve(request: Request) {
  const writes = !['peek', 'read', 'close'].includes(request.call);
  // Nobody else can write while these files are open here, but they must not be written for a window that only shows now.
  if (writes && request.holder !== undefined && !(await isHeldBy(request.holder)))
    throw new Failed({ code: 'not-holder' });
  if (request.call === 'overwrite') return overwrite(request.folder, request.bytes);
  if (request.call === 'peek') return peek(await Promise.all((await handles(request.folder)).map(readWhole)));
  files ??= openFiles(request.folder).catch((error: unknown) => {
    files = undefined;
    throw error;
  });
  const journal = await files;
  switch (request.call) {
    case 'read':
      return journal.read();
    case 'add':
      return journal.add(request.line);
    case 'heal':
      return journal.heal(request.stored, request.quarantined);
    case 'replace':
      return journal.replace(request.contents);
    case 'remove':
      return journal.remove(request.caseId);
    case 'close':
      files = undefined;
      return journal.close();
  }
}

async function handles(folder: string, names = ['a.jsonl', 'b.jsonl']): Promise<FileSystemFileHandle[]> {
  if (!navigator.storage?.getDirectory) throw new Failed({ code: 'no-files' });
  const directory = await (await navigator.storage.getDirectory()).getDirectoryHandle(folder, { create: true });
  return Promise.all(names.map((name) => directory.getFileHandle(name, { create: true })));
}

/** In place: neither the browser nor the file system is asked for other blocks than those that hold the old bytes. */
async function overwrite(folder: string, bytes: Uint8Array): Promise<undefined> {
  const [handle] = await handles(folder, [besideName]);
  const file = await openSync(handle as FileSystemFileHandle);
  try {
    const written = file.write(bytes, { at: 0 });
    if (written !== bytes.length) throw new Failed({ code: 'partly-written', written, bytes: bytes.length });
    file.flush();
  } finally {
    file.close();
  }
}

const readWhole = async (handle: FileSystemFileHandle) => new Uint8Array(await (await handle.getFile()).arrayBuffer());

async function openFiles(folder: string): Promise<JournalFiles> {
  const opening = await Promise.allSettled((await handles(folder)).map(openFile));
  const held = opening.flatMap((end) => (end.status === 'fulfilled' ? [end.value] : []));
  try {
    for (const end of opening) if (end.status === 'rejected') throw end.reason;
    return new JournalFiles(held as [JournalFile, JournalFile]);
  } catch (error) {
    // A file that stays open could not be opened again by this thread.
    for (const file of held) file.close();
    throw error;
  }
}

const openFile = async (handle: FileSystemFileHandle): Promise<JournalFile> => fileOf(await openSync(handle));

async function openSync(handle: FileSystemFileHandle): Promise<SyncFile> {
  const opener = handle as unknown as { createSyncAccessHandle?: () => Promise<SyncFile> };
  if (!opener.createSyncAccessHandle) throw new Failed({ code: 'no-sync-files' });
  const until = Date.now() + TIMEOUT_MS;
  for (;;) {
    try {
      return await opener.createSyncAccessHandle();
    } catch (error) {
      if ((error as DOMException).name !== 'NoModificationAllowedError' || Date.now() > until) throw error;
      await new Promise((wake) => setTimeout(wake, 50));
    }
  }
}

function fileOf(file: SyncFile): JournalFile {
  return {
    size: () => file.getSize(),
    read() {
      const bytes = new Uint8Array(file.getSize());
      const count = file.read(bytes, { at: 0 });
      return bytes.subarray(0, count);
    },
    append(bytes) {
      const written = file.write(bytes, { at: file.getSize() });
      if (written !== bytes.length) throw new Failed({ code: 'partly-written', written, bytes: bytes.length });
    },
    truncate: (size) => file.truncate(size),
    flush: () => file.flush(),
    close: () => file.close(),
  };
}
