/**
 * The journal proper, on two files. One is appended to; the other is empty. A wipe writes what remains to the empty
 * one, flushes, then empties the first, so that no moment leaves less than a whole journal behind, and no file is made
 * or deleted after the first start. CopyContents takes both files together.
 */
import { Failed, failureOf, type Failure } from '../../failure.ts';
import { JournalContents, type JournalLine, caseOf } from '../journal-contents.ts';
import { type Decoded, decode, encode, encodeTogether } from './journal-codec.ts';
import { type CopyContents, type StoredCase, type StoredRow } from '../port.ts';

/** A file with synchronous access. */
export interface JournalFile {
  read(): Uint8Array;
  size(): number;
  /** Writes all of it at the end, or throws. */
  append(bytes: Uint8Array): void;
  truncate(size: number): void;
  flush(): void;
  close(): void;
}

export class JournalFiles {
  private held = new JournalContents();
  private readonly damaged: Failure[] = [];
  private active: JournalFile;
  private spare: JournalFile;
  private generation = 0;

  /** Opens the journal for writing; a damaged end is cut off, since a line appended to it would be lost with it. */
  constructor([a, b]: readonly [JournalFile, JournalFile]) {
    const all: JournalLine[] = [];
    for (const { file: slot, decoded } of standing([a, b], (slot) => slot.read(), empty)) {
      const { lines, kept, damaged, start } = take(decoded, this.held, this.damaged);
      all.push(...lines);
      this.generation = Math.max(this.generation, start?.generation ?? 0);
      if (damaged === 0) continue;
      slot.truncate(kept);
      slot.flush();
    }
    [this.active, this.spare] = b.size() > a.size() ? [b, a] : [a, b];
    const stale = all.some((line) => line.kind !== 'removed' && this.held.wasRemoved(caseOf(line)));
    if (stale || this.spare.size() > 0) this.finishWipe();
  }

  read(): CopyContents<StoredRow> {
    return this.held.contents(this.damaged);
  }

  /** Checks, writes, flushes; only then counts it as held. Throws and leaves the file as it was when any of it fails. */
  add(line: JournalLine): void {
    if (this.held.wants(line)) this.write([line]);
  }

  heal(stored: StoredCase<StoredRow>, quarantined: readonly StoredRow[]): void {
    if (this.held.wasRemoved(stored.meta.caseId)) throw new Failed({ code: 'case-wiped' });
    const lines = this.held.lacking(stored, quarantined);
    if (lines.length) this.write(lines);
  }

  /** Writes everything to the spare file as the next generation, flushes, then empties the other. */
  replace(contents: CopyContents<StoredRow>): void {
    if (this.spare.size() > 0) this.compact();
    const held = JournalContents.of(contents);
    const lines = held.lines();
    append(
      this.spare,
      encode([{ kind: 'generation', generation: this.generation + 1, lines: lines.length }, ...lines]),
    );
    this.generation++;
    this.held = held;
    // It stands from here on, also when the old one cannot be emptied: what is added must not go there.
    [this.active, this.spare] = [this.spare, this.active];
    empty(this.spare);
  }

  remove(caseId: string): void {
    if (!this.held.wasRemoved(caseId)) this.write([{ kind: 'removed', caseId }]);
    this.compact();
  }

  close(): void {
    this.active.close();
    this.spare.close();
  }

  /** Moves what remains to the spare file and empties the other. */
  private compact(): void {
    const rest = encode(this.held.lines());
    if (this.spare.size() > 0) {
      append(this.active, rest);
      this.spare.truncate(0);
    }
    append(this.spare, rest);
    empty(this.active);
    [this.active, this.spare] = [this.spare, this.active];
  }

  /** A kill in the middle of a wipe leaves the wiped lines in place. Too little room to finish it must not close the journal. */
  private finishWipe(): void {
    try {
      this.compact();
    } catch (error) {
      this.damaged.push({ code: 'wipe-unfinished', reason: failureOf(error) });
    }
  }

  /** All of it or nothing, also across a kill. */
  private write(lines: JournalLine[]): void {
    append(this.active, encodeTogether(lines));
    for (const line of lines) this.held.apply(line);
  }
}

/** Reads both files without cutting anything: for a window that only follows. */
export function peek(files: readonly Uint8Array[]): CopyContents<StoredRow> {
  const held = new JournalContents();
  const damaged: Failure[] = [];
  for (const { decoded } of standing(files, (bytes) => bytes)) take(decoded, held, damaged);
  return held.contents(damaged);
}

function empty(slot: JournalFile): void {
  slot.truncate(0);
  slot.flush();
}

/** The files that count. One that was to take the place of the other does so once it is whole; a kill left it so, or not. */
function standing<F>(files: readonly F[], read: (file: F) => Uint8Array, drop: (file: F) => void = () => {}) {
  const all = files.map((file) => ({ file, decoded: decode(read(file)) }));
  const filled = all.filter(({ decoded }) => decoded.kept > 0 || decoded.damaged > 0);
  const [whole] = filled.filter(({ decoded }) => isWhole(decoded)).sort((a, b) => generationOf(b) - generationOf(a));
  if (filled.length < 2 || filled.every(({ decoded }) => !decoded.start)) return all;
  const stays = whole ?? filled.find(({ decoded }) => !decoded.start) ?? filled[0];
  for (const one of filled) if (one !== stays) drop(one.file);
  return all.filter((one) => one === stays || !filled.includes(one));
}

const generationOf = ({ decoded }: { decoded: Decoded }) => decoded.start?.generation ?? 0;
const isWhole = ({ start, lines }: Decoded) => start !== undefined && lines.length >= start.lines;

function take(decoded: Decoded, held: JournalContents, told: Failure[]) {
  const { lines, damaged, unreadable } = decoded;
  for (const line of lines) held.apply(line);
  if (damaged) told.push({ code: 'line-damaged', bytes: damaged });
  if (unreadable.length) told.push({ code: 'lines-unreadable', lines: unreadable });
  return decoded;
}

function append(slot: JournalFile, bytes: Uint8Array): void {
  const before = slot.size();
  try {
    slot.append(bytes);
    slot.flush();
  } catch (error) {
    // Half a line must not stay: the next one would be joined to it.
    slot.truncate(before);
    throw error;
  }
}
