/** What was done, as the first page tells it: one deed a sentence, before it is put into words. */
import type { AnyMoveId, Outcome, ToolId } from '../../../content/ids.ts';
import type { EntryOf } from '../../../machines/entry.ts';

/** What a sentence is about; each has one verb in each language. */
export const deedKinds = [
  'summary',
  'side-corrected',
  'bone-corrected',
  'turned-out',
  'taken-out',
  'called-out',
  'slipped',
  'no-change',
  'turns-free',
  'drilled-off',
  'head-came-off',
  'shank-broke',
  'tool-broke',
  'tool-jammed',
  'moved',
  'readied',
  'other-end',
  'interrupted',
  'end-not-told',
  'plate-off',
  'part-move',
  'part-left',
  'part-not-found',
  'put-in',
  'left-in',
  'tip-left',
  'piece',
  'all-of-it',
  'tip-piece',
  'destroyed',
  'tool-damaged',
  'event',
  'stopped',
  'put-off',
  'colleague',
  'found-out-after',
  'said-to-stay-after',
  'told-after',
  'further',
] as const;
export type DeedKind = (typeof deedKinds)[number];

/** A screw, by its id, and when it happened to it, ms. */
export interface Subject {
  id: string;
  times: readonly number[];
}

/** A move by which something was done or tried, with what was said of one that no release lists. */
export interface Way {
  move: AnyMoveId;
  what?: string | undefined;
}

export interface Deed {
  kind: DeedKind;
  /** Place in the story, ms. */
  at: number;
  /** What is left out first when there is too much to tell: the least. */
  weight: number;
  /** Entries that say it, by number. */
  from: readonly number[];
  subjects: readonly Subject[];
  /** Moves by which; several where one outcome is told of all of them. */
  ways: readonly Way[];
  /** The tool of it, where one was named. */
  tool?: ToolId | undefined;
  /** A tool, a part, or what was put in, as the sentence names it. */
  thing?: string;
  /** Free text that somebody entered, on one line; the first thing that is left out where there is no room. */
  text?: string;
  /** Words for what is chosen from a list. */
  how?:
    | { outcome: Outcome; said: string }
    | { part: EntryOf<'part-move'>['move']; outcome: NonNullable<EntryOf<'part-move'>['outcome']> | null }
    | { event: EntryOf<'event'>['kind'] }
    | { destroyed: EntryOf<'destroyed'>['what']; by: EntryOf<'destroyed'>['how'] }
    | { stop: string | null }
    | { was: string; now: string }
    | { tipMissing: boolean }
    | { unaccounted: true }
    | { out: number; of: number; parts: readonly string[] };
  /** How many of something, where the sentence counts. */
  count?: number;
  /** Deeds that are alike are one sentence: those of the same key. */
  key: string;
}

/** A sentence of the first page, and the entries that say it. */
export interface Said {
  kind: DeedKind;
  text: string;
  /** Numbers of entries, in rising order, never none. */
  from: number[];
}
