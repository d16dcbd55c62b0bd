/**
 * A copy of the log whose rows are sealed while a passcode is on. It sits between the comparing of the copies and each
 * of them: above it entries are plain and their seals can be followed, below it lie boxes with a keyed tag. Rows of
 * both kinds are read, so that switching may be cut off anywhere.
 */
import type { Entry } from '../../../machines/entry.ts';
import { fromBase64, toBase64 } from './base64.ts';
import { type CaseKeys, openBytes, sealBytes, utf8 } from './aes-gcm.ts';
import { oneByOne } from '../serial-queue.ts';
import {
  type Aside,
  type CaseMeta,
  type Copy,
  type Reading,
  Refusal,
  type SealedRow,
  type StoredCase,
  isSealed,
  settle as settled,
} from '../port.ts';

export interface Ring {
  /** Brings itself up to date; asked once for each reading, once the rows are there. */
  ready?(): Promise<void>;
  /** Is what is written sealed? */
  on(): boolean;
  /** Null when a case cannot be read now. */
  keysOf(caseId: string): Promise<CaseKeys | null>;
}

export interface SealedCopy extends Copy {
  /** Brings rows that are still written the other way to the way of now. Rejects with a reason in words. */
  settle(): Promise<void>;
}

/** A row is filled up with blanks to a multiple of so many bytes, so that its length does not tell its kind. */
const STEP = 256;

/**
 * @param copy what lies on disk
 * @param ring the keys of now; a case without keys is left out of what is read, and left as it is
 */
export function openSealed(copy: Copy, ring: Ring): SealedCopy {
  /** Cases in which a box did not open: their rows make room when the other copy gives the entry back. */
  const damaged = new Set<string>();
  /** Sealing takes a moment: writes stay in the order of the calls, and none comes between reading and replacing. */
  const inTurn = oneByOne();

  async function read(): Promise<Reading> {
    const raw = await copy.read();
    await ring.ready?.();
    // Nothing to open: a promise for each row would cost more than the reading itself.
    if (!ring.on() && isSettled(raw)) return raw;
    const torn = [...raw.torn];
    const shut = new Set<string>();
    const keyed = async (caseId: string, rows: readonly object[]) => {
      const keys = await ring.keysOf(caseId);
      const closed = !keys && (ring.on() || rows.some(isSealed));
      if (closed) shut.add(caseId);
      return { keys, closed };
    };
    const opened = async <T>(caseId: string, what: string, row: Promise<T>): Promise<T | null> =>
      row.catch(() => {
        damaged.add(caseId);
        torn.push(`${what} of a case could not be opened: skipped`);
        return null;
      });
    const cases: StoredCase[] = [];
    for (const { meta, entries } of raw.cases) {
      const { caseId } = meta;
      const { keys, closed } = await keyed(caseId, [meta, ...entries]);
      if (closed) continue;
      const all = await Promise.all(
        entries.map((row) => opened(caseId, `entry ${row.n}`, openEntry(keys, caseId, row))),
      );
      cases.push({
        meta: (await opened(caseId, 'the opening', openMeta(keys, meta))) ?? blankMeta(caseId),
        entries: all.filter((entry) => entry !== null),
      });
    }
    const aside: Aside[] = [];
    for (const { caseId, entry: row } of raw.aside) {
      const { keys, closed } = await keyed(caseId, [row]);
      if (closed) continue;
      const entry = await opened(caseId, `entry ${row.n}, set aside,`, openEntry(keys, caseId, row));
      if (entry) aside.push({ caseId, entry });
    }
    if (shut.size && !ring.on()) torn.push(`cases that are sealed and cannot be opened here: ${shut.size}`);
    return { cases, removed: raw.removed, aside, torn };
  }

  /** The keys to write with, or null to write plainly. */
  async function keysFor(caseId: string): Promise<CaseKeys | null> {
    if (!ring.on()) return null;
    const keys = await ring.keysOf(caseId);
    if (!keys) throw new Refusal('locked: the passcode is needed');
    return keys;
  }

  /** All rows, each turned by what is done to it. */
  async function turned(
    raw: Reading,
    entry: (caseId: string, row: Entry) => Promise<Entry | null>,
    meta: (row: CaseMeta) => Promise<CaseMeta> = async (row) => row,
  ): Promise<Reading> {
    const cases: StoredCase[] = [];
    for (const one of raw.cases) {
      const rows = await Promise.all(one.entries.map((row) => entry(one.meta.caseId, row)));
      cases.push({ meta: await meta(one.meta), entries: rows.filter((row) => row !== null) });
    }
    const aside = await Promise.all(
      raw.aside.map(async (one) => ({ caseId: one.caseId, entry: await entry(one.caseId, one.entry) })),
    );
    return { ...raw, cases, aside: aside.filter((one): one is Aside => one.entry !== null) };
  }

  /** Is this written the way of now? */
  const done = (row: object) => isSealed(row) === ring.on();
  const isSettled = (raw: Reading) =>
    raw.cases.every(({ meta, entries }) => (!meta.created || done(meta)) && entries.every(done)) &&
    raw.aside.every(({ entry }) => done(entry));

  async function settle(): Promise<void> {
    const raw = await copy.read();
    if (isSettled(raw)) return;
    const next = await turned(
      raw,
      async (caseId, row) => {
        const keys = done(row) ? null : await ring.keysOf(caseId);
        if (!keys) return row;
        return ring.on() ? sealEntry(keys, caseId, row) : openEntry(keys, caseId, row).catch(() => row);
      },
      async (row) => {
        const keys = done(row) || !row.created ? null : await ring.keysOf(row.caseId);
        if (!keys) return row;
        return ring.on() ? sealMeta(keys, row) : openMeta(keys, row).catch(() => row);
      },
    );
    await copy.replace(next);
  }

  /** Takes rows out that do not open, so that the entry can stand in their place again. */
  async function makeRoom(caseId: string): Promise<void> {
    const keys = await ring.keysOf(caseId);
    const kept = await turned(
      await copy.read(),
      async (id, row) =>
        id === caseId && isSealed(row) && !(await openEntry(keys, id, row).catch(() => null)) ? null : row,
      async (row) =>
        row.caseId === caseId && !(await openMeta(keys, row).catch(() => null)) ? blankMeta(caseId) : row,
    );
    await copy.replace(kept);
    damaged.delete(caseId);
  }

  const write = (step: () => Promise<unknown>) => inTurn(() => settled(step().then(insist)));
  return {
    read: () => inTurn(read),
    list: () => inTurn(async () => (await read()).cases),
    create: (meta) =>
      write(async () => {
        const keys = await keysFor(meta.caseId);
        return copy.create(keys ? await sealMeta(keys, meta) : meta);
      }),
    append: (caseId, entry) =>
      write(async () => {
        const keys = await keysFor(caseId);
        return copy.append(caseId, keys ? await sealEntry(keys, caseId, entry) : entry);
      }),
    heal: ({ meta, entries }, aside) =>
      write(async () => {
        const { caseId } = meta;
        const keys = await keysFor(caseId);
        if (damaged.has(caseId)) await makeRoom(caseId);
        const all = (list: readonly Entry[]) =>
          Promise.all(list.map(async (entry) => (keys ? sealEntry(keys, caseId, entry) : entry)));
        const stored = { meta: keys && meta.created ? await sealMeta(keys, meta) : meta, entries: await all(entries) };
        return copy.heal(stored, await all(aside));
      }),
    replace: (reading) => inTurn(() => copy.replace(reading)),
    settle: () => inTurn(settle),
    remove: (caseId) => inTurn(() => copy.remove(caseId)),
    close: () => inTurn(() => copy.close()),
  };
}

/** A refusal below is a refusal here, with the same words. */
function insist(result: unknown): void {
  const { ok, reason } = result as { ok: boolean; reason?: string };
  if (!ok) throw new Refusal(reason ?? 'no reason given');
}

/** What stands for an opening that cannot be read: the other copy gives it back. */
const blankMeta = (caseId: string): CaseMeta => ({ caseId, contentVersion: '', demo: false, created: '' });

const belongsTo = (caseId: string, n: number) => utf8(`${caseId}\n${n}`);

async function sealed(keys: CaseKeys, caseId: string, n: number, value: unknown): Promise<SealedRow> {
  const json = utf8(JSON.stringify(value));
  const filled = new Uint8Array(Math.ceil(json.length / STEP) * STEP).fill(0x20);
  filled.set(json);
  const [box, tag] = await Promise.all([
    sealBytes(keys.box, filled, belongsTo(caseId, n)),
    crypto.subtle.sign('HMAC', keys.tag, json),
  ]);
  return { n, seal: toBase64(new Uint8Array(tag)), box: toBase64(box) };
}

async function opened(keys: CaseKeys, caseId: string, { n, box }: SealedRow): Promise<unknown> {
  const bytes = await openBytes(keys.box, fromBase64(box), belongsTo(caseId, n));
  return JSON.parse(new TextDecoder().decode(bytes));
}

const sealEntry = async (keys: CaseKeys, caseId: string, entry: Entry): Promise<Entry> =>
  (await sealed(keys, caseId, entry.n, entry)) as unknown as Entry;

async function openEntry(keys: CaseKeys | null, caseId: string, row: Entry): Promise<Entry> {
  if (!isSealed(row)) return row;
  if (!keys) throw new Refusal('locked: the passcode is needed');
  return (await opened(keys, caseId, row as unknown as SealedRow)) as Entry;
}

/** The opening of a case is sealed like an entry numbered 0, which no entry is. */
async function sealMeta(keys: CaseKeys, meta: CaseMeta): Promise<CaseMeta> {
  const { seal, box } = await sealed(keys, meta.caseId, 0, meta);
  return { caseId: meta.caseId, contentVersion: '', demo: false, created: seal, box } as CaseMeta;
}

async function openMeta(keys: CaseKeys | null, row: CaseMeta): Promise<CaseMeta> {
  if (!isSealed(row)) return row;
  if (!keys) throw new Refusal('locked: the passcode is needed');
  const { box } = row as unknown as SealedRow;
  return (await opened(keys, row.caseId, { n: 0, seal: row.created, box })) as CaseMeta;
}
