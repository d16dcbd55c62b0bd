/** What the words of a sentence are made of, in any language. */
import type { Deed, DeedKind } from './deed.ts';

/** A deed as a language puts it into one sentence: ids and times already as they are read. */
export interface Told {
  /** 0: each screw with its times; 1: which screws, from when to when; 2: how many screws; 3: without times. */
  detail: number;
  ids: { id: string; times: string[] }[];
  /** All times in order, each minute once. */
  times: string[];
  /** By what it was done, such as "with the hollow reamer". */
  ways: string[];
  thing: string;
  /** What somebody entered, without a full stop; null where there is none, or no room. */
  text: string | null;
  how: Deed['how'] | null;
  count: number;
}

/** The sentence of each kind, without a capital and a full stop. */
export type Tellers = Record<DeedKind, (told: Told) => string>;

type How<K extends string> = Extract<NonNullable<Deed['how']>, Record<K, unknown>>;

/** What was chosen, where the deed has that. */
export function howOf<K extends string>({ how }: Told, key: K): How<K> {
  if (how === null || how === undefined || !(key in how)) throw new Error(`a deed without ${key}`);
  return how as How<K>;
}

/** Was it said that the tip of the tool was missing? */
export const isTipMissing = ({ how }: Told): boolean =>
  how !== null && how !== undefined && 'tipMissing' in how && how.tipMissing;

/** Is it out by the log, and not all of it accounted for? */
export const isUnaccounted = ({ how }: Told): boolean => how !== null && how !== undefined && 'unaccounted' in how;
