/** Moves and their outcomes as sentences in the past tense. */
import type { MoveId, Outcome, ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { bore, clean, list, mm, some, toolLabel } from './words.ts';

/** Each move as what was being done. */
export const doing: Record<MoveId, string> = {
  'turn-out': 'turning out with the matched driver',
  'reseat-driver': 'cleaning the recess, reseating the driver and turning once more',
  'pack-recess': 'packing the recess with foil and turning',
  'drive-oversize': 'tapping in a tight driver and turning',
  'grip-head': 'gripping the head from outside',
  'conical-extractor': 'turning in the conical extractor by hand',
  'reverse-tap': 'drilling the recess round and cutting in the reverse-thread tap',
  'free-plate': 'freeing the plate and turning screw and plate together',
  'slot-head': 'cutting a slot or flats in the head and turning',
  'drill-head-off': 'drilling the head off',
  'grip-shank': 'gripping the standing shank and turning',
  'gouge-and-grip': 'making room round the shank with a gouge and gripping it',
  'far-side': 'taking the piece out from the far side',
  'push-through': 'driving the piece out through the far side',
  'hollow-ream': 'reaming over the shank with the hollow reamer',
  'extraction-sleeve': 'turning out with the extraction sleeve',
  'burr-out': 'burring the piece away',
  'leave-in': 'leaving it in',
};

/** What a hand held when nobody named the tool. */
const unnamed: Record<MoveId, string> = {
  'turn-out': 'driver',
  'reseat-driver': 'driver',
  'pack-recess': 'driver',
  'drive-oversize': 'driver',
  'grip-head': 'gripper',
  'conical-extractor': 'conical extractor',
  'reverse-tap': 'reverse-thread tap',
  'free-plate': 'cutting tool',
  'slot-head': 'tool',
  'drill-head-off': 'drill',
  'grip-shank': 'gripper',
  'gouge-and-grip': 'gripper',
  'far-side': 'gripper',
  'push-through': 'punch',
  'hollow-ream': 'hollow reamer',
  'extraction-sleeve': 'extraction sleeve',
  'burr-out': 'burr',
  'leave-in': 'tool',
};

/** A move that an entry belongs to. */
export interface Running {
  move: MoveId;
  tool?: ToolId | undefined;
}

export const toolOf = (content: Content, running: Running | undefined): string =>
  running?.tool ? toolLabel(content, running.tool) : running ? unnamed[running.move] : 'tool';

/** `screwName('3')` is `'screw 3'`. */
export const screwName = (id: string): string => `screw ${clean(id)}`;

const fill = (template: string, values: Record<string, string>) =>
  template.replace(/\{(\w+)\}/g, (_, key: string) => values[key] ?? '');

/** How a move ended, without a capital or a full stop. `running` is the move it ended, if one is known. */
export function outcomeWords(content: Content, id: string, outcome: Outcome, running: Running | undefined): string {
  const screw = screwName(id);
  const tool = toolOf(content, running);
  const rules = content.moves.find(({ id: move }) => move === running?.move);
  if (outcome === 'slipped' && rules?.turnsInRecess) return `the ${tool} slipped in the recess of ${screw}`;
  if (outcome === 'head-sheared' && rules?.aim === 'head-sheared') return `the head of ${screw} was drilled off`;
  if (outcome === 'set-up-done' && rules?.aim === 'head-sheared') return `the head of ${screw} was drilled off`;
  return fill(content.phrases.outcomes[outcome].sentence, { screw, tool, id: clean(id) }).replace(
    'screw screw ',
    'screw ',
  );
}

export function startSentence(content: Content, entry: EntryOf<'move-started'>): string {
  const { screw, move, tool, reverseConfirmed, bores } = entry;
  return some(
    `on ${screwName(screw)}, ${doing[move]} began${tool ? `, with the ${toolLabel(content, tool)}` : ''}`,
    reverseConfirmed === true && 'the drive was confirmed to run in reverse',
    reverseConfirmed === false && 'the drive was not confirmed to run in reverse',
    bores && `expected bores: ${boresWords(bores)}`,
  ).join('; ');
}

export function endSentence(content: Content, entry: EntryOf<'move-ended'>, running: Running | undefined): string {
  const { screw, outcome, reachable, recovered, toolJammed, bores } = entry;
  return some(
    outcomeWords(content, screw, outcome, running),
    reachable === true && 'the stump could still be reached at the near cortex',
    reachable === false && 'the rest lay too deep to be reached at the near cortex',
    recovered !== undefined && `${mm(recovered)} of it recovered`,
    toolJammed === true && `the ${toolOf(content, running)} was still jammed in it`,
    bores && `bores made: ${boresWords(bores)}`,
  ).join('; ');
}

export const boresWords = (bores: EntryOf<'move-ended'>['bores']): string =>
  bores?.length ? list(bores.map(bore)) : 'none';
