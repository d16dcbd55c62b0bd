import fc from 'fast-check';
import { crc32 as zlibCrc32, gzipSync } from 'node:zlib';
import { describe, expect, it, vi } from 'vitest';
import { JournalContents, type JournalLine } from '../../src/store/journal-contents.ts';
import { openJournal, type JournalWorker } from '../../src/store/opfs/journal.ts';
import { crc32, decode, encode } from '../../src/store/opfs/journal-codec.ts';
import { JournalFiles, peek } from '../../src/store/opfs/journal-files.ts';
import { explore } from '../explore.ts';
import { chain, metaOf, next } from './chain.ts';
import { files, simulatedWorker } from './simulated.ts';

const lines = (caseId: string, count: number): JournalLine[] => [
  { kind: 'case', meta: metaOf(caseId) },
  ...chain(count).map((entry): JournalLine => ({ kind: 'entry', caseId, entry })),
];
const wrote = (...all: JournalLine[]) => {
  const pair = files();
  const journal = new JournalFiles(pair);
  for (const line of all) journal.add(line);
  return { pair, journal };
};

describe('journal lines', () => {
  it('carry the CRC-32 that gzip writes too', () => {
    expect(crc32(new TextEncoder().encode('123456789'))).toBe('cbf43926');
    explore(
      fc.property(fc.uint8Array(), (bytes) => {
        const trailer = gzipSync(bytes).subarray(-8);
        expect(crc32(bytes)).toBe(trailer.readUInt32LE(0).toString(16).padStart(8, '0'));
      }),
    );
    expect(typeof zlibCrc32 === 'undefined' || zlibCrc32('123456789') === 0xcbf43926).toBe(true);
  });

  it('read back as they were written, whatever the text', () => {
    explore(
      fc.property(fc.array(fc.string({ unit: 'binary' })), (texts) => {
        const made = texts.map((text, i): JournalLine => ({
          kind: 'entry',
          caseId: text,
          entry: { ...next([]), n: i + 1 },
        }));
        expect(decode(encode(made))).toMatchObject({ lines: made, damaged: 0, unreadable: [] });
      }),
    );
  });

  it('[Z14] cut at any byte, give back every whole line and measure the torn end', () => {
    const all = lines('one', 5);
    const bytes = encode(all);
    const ends = all.map((_, i) => encode(all.slice(0, i + 1)).length);
    for (let cut = 0; cut <= bytes.length; cut++) {
      const whole = ends.filter((end) => end <= cut).length;
      const { lines: read, damaged, kept } = decode(bytes.subarray(0, cut));
      expect(read).toEqual(all.slice(0, whole));
      expect([kept, damaged]).toEqual([ends[whole - 1] ?? 0, cut - (ends[whole - 1] ?? 0)]);
    }
  });

  it('[Z14] with any one byte changed, lose at most the lines that hold it and say which', () => {
    const all = lines('one', 6);
    const bytes = encode(all);
    explore(
      fc.property(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), (at, flip) => {
        const spoilt = Uint8Array.from(bytes);
        spoilt[at] = (spoilt[at] as number) ^ flip;
        const { lines: read, damaged, unreadable } = decode(spoilt);
        expect(read.length).toBeGreaterThanOrEqual(all.length - 2);
        expect(read.every((line) => all.some((one) => JSON.stringify(one) === JSON.stringify(line)))).toBe(true);
        expect(read.length === all.length || damaged > 0 || unreadable.length > 0).toBe(true);
      }),
    );
  });
});

describe('the journal on two files', () => {
  it('flushes every line before it counts', () => {
    const { pair, journal } = wrote(...lines('one', 3));
    expect(pair[0].flushed).toBe(pair[0].bytes.length);
    expect(journal.read().cases[0]?.entries).toHaveLength(3);
  });

  it('[Z14] cuts a torn end off before it writes on, so that the next line is not lost with it', () => {
    const { pair } = wrote(...lines('one', 3));
    pair[0].truncate(pair[0].size() - 10);
    const again = new JournalFiles(pair);
    expect(again.read().damaged).toEqual([{ code: 'line-damaged', bytes: expect.any(Number) as number }]);
    again.add({ kind: 'entry', caseId: 'one', entry: chain(3)[2] as never });
    const third = new JournalFiles(pair).read();
    expect([third.cases[0]?.entries, third.damaged]).toEqual([chain(3), []]);
  });

  it('[Z14] of a case that is brought in, cut at any byte, holds all or nothing, and takes the next line', () => {
    const { pair, journal } = wrote(...lines('one', 3));
    const before = pair[0].size();
    journal.heal({ meta: metaOf('brought'), entries: chain(2) }, [next(chain(1), { type: 'remark', text: 'beside' })]);
    const whole = pair[0].bytes;
    for (let cut = before; cut <= whole.length; cut++) {
      const torn = files();
      torn[0].append(whole.subarray(0, cut));
      const again = new JournalFiles(torn);
      const all = cut === whole.length;
      expect(again.read().cases.map(({ meta, entries }) => [meta.caseId, entries.length])).toEqual(
        all ? [['one', 3], ['brought', 2]] : [['one', 3]], // prettier-ignore
      );
      expect(again.read().quarantined).toHaveLength(all ? 1 : 0);
      again.add({ kind: 'entry', caseId: 'one', entry: chain(4)[3] as never });
      if (cut % 20 === 0) expect(new JournalFiles(torn).read().cases[0]?.entries).toEqual(chain(4));
    }
  });

  it('[Z14] when the disk is full in the middle of a line, refuses it and takes the half line back', () => {
    const { pair, journal } = wrote(...lines('one', 3));
    const before = pair[0].size();
    pair[0].refuse = { after: 40 };
    const fourth: JournalLine = { kind: 'entry', caseId: 'one', entry: chain(4)[3] as never };
    expect(() => journal.add(fourth)).toThrow();
    expect([pair[0].size(), journal.read().cases[0]?.entries.length]).toEqual([before, 3]);
    pair[0].refuse = undefined;
    journal.add(fourth);
    expect(new JournalFiles(pair).read().cases[0]?.entries).toEqual(chain(4));
  });

  it('[Z22] a wipe leaves no byte of the case in either file, and the rest whole', () => {
    const { pair, journal } = wrote(...lines('secret-case', 4), ...lines('two', 3));
    journal.remove('secret-case');
    const text = pair.map((file) => new TextDecoder().decode(file.bytes)).join('');
    expect(text.match(/secret-case/g)).toHaveLength(1);
    expect(text).toContain('{"kind":"removed","caseId":"secret-case"}');
    expect(new JournalFiles(pair).read().cases.map((c) => [c.meta.caseId, c.entries.length])).toEqual([['two', 3]]);
  });

  it('[Z14] [Z22] a wipe that is cut short at any step loses nothing else and is finished at the next start', () => {
    for (let steps = 0; steps < 12; steps++) {
      const { pair, journal } = wrote(...lines('gone', 4), ...lines('two', 3), ...lines('three', 2));
      let left = steps;
      for (const file of pair)
        for (const name of ['append', 'truncate', 'flush'] as const) {
          const real: (value: never) => void = file[name].bind(file);
          file[name] = (value?: unknown) => {
            if (left-- <= 0) throw new Error('killed');
            real(value as never);
          };
        }
      try {
        journal.remove('gone');
      } catch {
        // The kill that this test is about.
      }
      const after = files();
      after.forEach((file, i) => (file.bytes = (pair[i] as (typeof pair)[0]).bytes));
      const reading = new JournalFiles(after).read();
      const kept = reading.cases.filter((c) => c.meta.caseId !== 'gone').map((c) => [c.meta.caseId, c.entries.length]);
      expect(kept.sort(), `killed after ${steps} steps`).toEqual([
        ['three', 2],
        ['two', 3],
      ]);
      if (reading.removed.includes('gone'))
        expect(new TextDecoder().decode(Uint8Array.from([...after[0].bytes, ...after[1].bytes]))).not.toContain(
          '"caseId":"gone","entry"',
        );
      else expect(reading.cases.find((c) => c.meta.caseId === 'gone')?.entries).toHaveLength(4);
    }
  });

  it('read by a window that only follows, is left as it is', () => {
    const { pair } = wrote(...lines('one', 3));
    pair[0].truncate(pair[0].size() - 5);
    const before = pair[0].bytes;
    expect(peek(pair.map((file) => file.bytes)).cases[0]?.entries).toHaveLength(2);
    expect(pair[0].bytes).toBe(before);
  });

  it('a case whose opening line is unreadable still gives its entries', () => {
    const held = new JournalContents();
    for (const line of lines('one', 2).slice(1)) held.apply(line);
    expect(held.contents().cases[0]?.entries).toHaveLength(2);
    held.apply({ kind: 'case', meta: metaOf('one') });
    expect(held.contents().cases[0]?.meta).toEqual(metaOf('one'));
  });
});

describe('the journal behind its worker', () => {
  it('[Z14] never waits for ever: a worker that does not answer is a refusal in words', async () => {
    const state = { mute: true, started: 0 };
    const pair = files();
    const journal = openJournal({ timeoutMs: 30, rest: 60, makeWorker: () => simulatedWorker(pair, state) });
    expect(await journal.create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'journal-slow', seconds: 0.03 },
    });
    expect(await journal.create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'journal-rests' },
    });
    state.mute = false;
    const answered = async () => expect(await journal.create(metaOf('one'))).toEqual({ ok: true, copies: 1 });
    await vi.waitFor(answered, { timeout: 20_000, interval: 10 });
    expect(state.started).toBe(2);
  });

  it('started before it is asked, uses that thread; one that failed meanwhile is a refusal at once', async () => {
    const state = { started: 0 };
    const made: ReturnType<typeof simulatedWorker>[] = [];
    const makeWorker = () => {
      made.push(simulatedWorker(files(), state));
      return made.at(-1) as never;
    };
    const journal = openJournal({ early: true, makeWorker });
    expect(state.started).toBe(1);
    expect(await journal.create(metaOf('one'))).toEqual({ ok: true, copies: 1 });
    expect(state.started).toBe(1);

    const failing = openJournal({ early: true, makeWorker });
    made.at(-1)?.onerror?.({ message: 'not found' } as ErrorEvent);
    await expect(failing.read()).rejects.toMatchObject({ failure: { code: 'journal-rests' } });
  });

  it.each([[null], ['done'], [{ id: 'one' }], [{ id: 1, contents: 7 }], [{ id: 1, reason: 'no room' }]])(
    'takes an answer of another form for a failure of the thread: %j',
    async (data) => {
      const worker: JournalWorker = { onmessage: null, onerror: null, terminate: () => {}, postMessage: () => {} };
      const journal = openJournal({ makeWorker: () => worker });
      const asked = journal.create(metaOf('one'));
      worker.onmessage?.({ data } as MessageEvent);
      expect(await asked).toEqual({
        ok: false,
        reason: { code: 'journal-failed', detail: 'an answer of another form' },
      });
    },
  );

  it('refuses where there are no workers at all, also when one was to be started early', async () => {
    const journal = openJournal({
      early: true,
      makeWorker: () => {
        throw new DOMException('no workers here', 'SecurityError');
      },
    });
    expect(await journal.create(metaOf('one'))).toEqual({
      ok: false,
      reason: { code: 'not-allowed', detail: 'no workers here' },
    });
    await expect(journal.read()).rejects.toThrow('no workers here');
  });

  it('[Z25] in a window that only follows, refuses to write', async () => {
    const journal = openJournal({ writer: () => false, makeWorker: () => simulatedWorker(files()) });
    expect(await journal.create(metaOf('one'))).toEqual({ ok: false, reason: { code: 'reads-only' } });
  });
});
