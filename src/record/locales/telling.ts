import type { AnyMoveId, ToolId } from '../../../content/ids.ts';
import { fillTemplate } from '../../../content/template.ts';
import type { Content } from '../../../content/types.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import type { ScrewFacts } from '../../../machines/screw.context.ts';

/** A move that an entry belongs to. */
export interface Running {
  move: AnyMoveId;
  tool?: ToolId | undefined;
}

/** A screw as it was listed, or as it is reckoned with. */
export type ListedFacts = EntryOf<'screw-listed'> | ScrewFacts;

/** Does nobody know it, so that what is reckoned with is no fact? */
export const isAssumed = (facts: ListedFacts, field: 'locking' | 'cortices'): boolean =>
  facts[field] === null || ('assumed' in facts && facts.assumed?.includes(field) === true);

/** Context of a sentence, besides its entry. */
export interface Telling {
  content: Content;
  /** The move that a `move-ended` ended, if one is known. */
  running: Running | undefined;
  /** The entry lists a screw that was listed before, or adds to a stop that stood already. */
  again: boolean;
  /** Zone that a time in the sentence stands in; left out: as it was written. */
  zone?: string;
}

/** `fill('{screw} came out', { screw: 'screw 3' })` is `'screw 3 came out'`. */
export const fill = (template: string, values: Record<string, string>): string =>
  fillTemplate(template, (place) => values[place] ?? '');
