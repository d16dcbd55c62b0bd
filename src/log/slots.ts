/**
 * The journal proper, on two files. One is appended to; the other is empty. A wipe writes what remains to the empty
 * one, flushes, then empties the first, so that no moment leaves less than a whole journal behind, and no file is made
 * or deleted after the first start. Reading takes both files together.
 */
import type { Entry } from '../../machines/entry.ts';
import { Holdings, type Line, caseOf } from './holdings.ts';
import { decode, encode } from './lines.ts';
import { type Reading, Refusal, type StoredCase, reasonOf } from './port.ts';

/** A file with synchronous access. */
export interface Slot {
  read(): Uint8Array;
  size(): number;
  /** Writes all of it at the end, or throws. */
  append(bytes: Uint8Array): void;
  truncate(size: number): void;
  flush(): void;
  close(): void;
}

export class Slots {
  private readonly held = new Holdings();
  private readonly torn: string[] = [];
  private active: Slot;
  private spare: Slot;

  /** Opens the journal for writing; a torn end is cut off, since a line appended to it would be lost with it. */
  constructor([a, b]: readonly [Slot, Slot]) {
    const all: Line[] = [];
    for (const slot of [a, b]) {
      const { lines, kept, torn } = take(slot.read(), this.held, this.torn);
      all.push(...lines);
      if (torn === 0) continue;
      slot.truncate(kept);
      slot.flush();
    }
    [this.active, this.spare] = b.size() > a.size() ? [b, a] : [a, b];
    const stale = all.some((line) => line.kind !== 'removed' && this.held.wasRemoved(caseOf(line)));
    if (stale || this.spare.size() > 0) this.finishWipe();
  }

  read(): Reading {
    return this.held.reading(this.torn);
  }

  /** Checks, writes, flushes; only then counts it as held. Throws and leaves the file as it was when any of it fails. */
  add(line: Line): void {
    if (this.held.wants(line)) this.write([line]);
  }

  heal(stored: StoredCase, aside: readonly Entry[]): void {
    if (this.held.wasRemoved(stored.meta.caseId)) throw new Refusal('this case was wiped');
    const lines = this.held.lacking(stored, aside);
    if (lines.length) this.write(lines);
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
    this.active.truncate(0);
    this.active.flush();
    [this.active, this.spare] = [this.spare, this.active];
  }

  /** A kill in the middle of a wipe leaves the wiped lines in place. Too little room to finish it must not close the journal. */
  private finishWipe(): void {
    try {
      this.compact();
    } catch (error) {
      this.torn.push(`a wipe could not be finished: ${reasonOf(error)}`);
    }
  }

  private write(lines: Line[]): void {
    append(this.active, encode(lines));
    for (const line of lines) this.held.apply(line);
  }
}

/** Reads both files without cutting anything: for a window that only follows. */
export function peek(files: readonly Uint8Array[]): Reading {
  const held = new Holdings();
  const torn: string[] = [];
  for (const bytes of files) take(bytes, held, torn);
  return held.reading(torn);
}

function take(bytes: Uint8Array, held: Holdings, told: string[]) {
  const { lines, kept, torn, unreadable } = decode(bytes);
  for (const line of lines) held.apply(line);
  if (torn) told.push(`the last line was torn: ${torn} bytes cut off`);
  if (unreadable.length) told.push(`unreadable lines skipped: ${unreadable.join(', ')}`);
  return { lines, kept, torn };
}

function append(slot: Slot, bytes: Uint8Array): void {
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
