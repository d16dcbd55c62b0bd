import type { MoveId, ToolId } from '../../../content/ids.ts';
import { fillTemplate } from '../../../content/template.ts';
import type { Content } from '../../../content/types.ts';

/** A move that an entry belongs to. */
export interface Running {
  move: MoveId;
  tool?: ToolId | undefined;
}

/** Context of a sentence, besides its entry. */
export interface Telling {
  content: Content;
  /** The move that a `move-ended` ended, if one is known. */
  running: Running | undefined;
  /** The entry lists a screw that was listed before. */
  again: boolean;
}

/** `fill('{screw} came out', { screw: 'screw 3' })` is `'screw 3 came out'`. */
export const fill = (template: string, values: Record<string, string>): string =>
  fillTemplate(template, (place) => values[place] ?? '');
