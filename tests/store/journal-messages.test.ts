/** Page and thread of the journal may be of two builds: neither takes from the other what it cannot read. */
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { openJournal, type JournalWorker } from '../../src/store/opfs/journal.ts';
import { idOf, requestOf, type Request } from '../../src/store/opfs/journal-messages.ts';
import { chain, metaOf } from './chain.ts';

/** Everything that a page may ask of its journal, as it is posted. */
function everyRequest(): Request[] {
  const posted: Request[] = [];
  const worker: JournalWorker = {
    ...{ onmessage: null, onerror: null, terminate: () => {} },
    postMessage: (request) => void posted.push(structuredClone(request)),
  };
  const journal = openJournal({ makeWorker: () => worker, holder: () => 'this window' });
  const stored = { meta: { ...metaOf('one'), overlay: { name: 'ward' } }, entries: chain(3) };
  const beside = chain(2);
  void journal.read();
  void journal.create(stored.meta);
  void journal.append('one', chain(1)[0]!);
  void journal.heal(stored, beside);
  const quarantined = beside.map((entry) => ({ caseId: 'one', entry }));
  void journal.replace({
    cases: [stored],
    removed: ['two'],
    quarantined,
    damaged: [{ code: 'line-damaged', bytes: 7 }],
  });
  void journal.remove('one');
  void journal.overwrite(Uint8Array.of(1, 2, 3));
  void journal.close();
  void openJournal({ makeWorker: () => worker, writer: () => false }).read();
  return posted;
}
const read = { call: 'read', id: 7, until: 0, folder: 'log' };
const meta = metaOf('one');
const unreadable: unknown[] = [
  ...[null, 'read', [], {}],
  { ...read, call: 'forget' },
  { ...read, call: undefined },
  { ...read, id: '7' },
  { ...read, id: undefined },
  { ...read, until: undefined },
  { ...read, folder: null },
  { ...read, holder: 7 },
  { ...read, call: 'add' },
  { ...read, call: 'add', line: { kind: 'later', caseId: 'one' } },
  { ...read, call: 'add', line: { kind: 'entry', caseId: 'one' } },
  { ...read, call: 'add', line: { kind: 'entry', entry: { n: 1 } } },
  { ...read, call: 'add', line: { kind: 'entry', caseId: 'one', entry: { n: '1' } } },
  { ...read, call: 'add', line: { kind: 'case', meta: { ...meta, created: undefined } } },
  { ...read, call: 'add', line: { kind: 'removed', caseId: 1 } },
  { ...read, call: 'heal', stored: { meta, entries: [{}] }, quarantined: [] },
  { ...read, call: 'heal', stored: { meta, entries: [] } },
  { ...read, call: 'replace', contents: { cases: [], removed: [], quarantined: [] } },
  { ...read, call: 'replace', contents: { cases: [{ meta }], removed: [], quarantined: [], damaged: [] } },
  { ...read, call: 'remove' },
  { ...read, call: 'overwrite', bytes: [1, 2, 3] },
];

describe('a request', () => {
  it('of this build is read as it was posted, every field of an entry with it', () => {
    const posted = everyRequest();
    expect(posted.map(({ call }) => call)).toEqual([
      ...['read', 'add', 'add', 'heal', 'replace', 'remove', 'overwrite', 'close', 'peek'],
    ]);
    for (const request of posted) expect(requestOf(request)).toBe(request);
  });

  it.each(unreadable.map((message) => [message]))('of another form is refused: %j', (message) => {
    const failure = { code: 'journal-failed', detail: 'a request of another form' };
    expect(() => requestOf(message)).toThrow(expect.objectContaining({ failure }));
  });

  it('keeps the number under which it waits, whatever else is wrong with it', () => {
    expect([{ id: 7, call: 'forget' }, { id: '7' }, null].map(idOf)).toEqual([7, NaN, NaN]);
  });
});

describe('the thread', () => {
  const posted = vi.fn();
  const scope = globalThis as unknown as { onmessage: (event: { data: unknown }) => void };
  beforeAll(async () => {
    vi.stubGlobal('postMessage', posted);
    await import('../../src/store/opfs/journal.worker.ts');
  });

  it('says no to a request that it cannot read, and touches no file for it', async () => {
    const getDirectory = vi.fn();
    vi.stubGlobal('navigator', { storage: { getDirectory } });
    scope.onmessage({ data: { ...read, call: 'forget', until: Infinity } });
    scope.onmessage({ data: { ...read, call: 'remove', until: Infinity } });
    await vi.waitFor(() => expect(posted).toHaveBeenCalledTimes(2));
    const reason = { code: 'journal-failed', detail: 'a request of another form' };
    expect(posted.mock.calls).toEqual([[{ id: 7, reason }], [{ id: 7, reason }]]);
    expect(getDirectory).not.toHaveBeenCalled();
  });

  it('answers the next one that it can read: here that there are no files', async () => {
    posted.mockClear();
    vi.stubGlobal('navigator', {});
    scope.onmessage({ data: { ...read, until: Infinity } });
    await vi.waitFor(() => expect(posted).toHaveBeenCalledWith({ id: 7, reason: { code: 'no-files' } }));
  });
});
