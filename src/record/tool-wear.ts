/** What a move does to its tool, and how a jammed one is parted: for the note and for sterile services alike. */
import type { ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';

/** The move that frees the plate with one of several tools: which it was is known only where somebody said so. */
export const freesPlate = 'free-plate';

/** Moves that cut metal or use something up, with the tools that do, but for `freesPlate`. Common practice, no source. */
export const wears: Partial<Record<string, readonly ToolId[]>> = {
  'pack-recess': ['metal-foil'],
  'conical-extractor': ['conical-extractor'],
  'reverse-tap': ['hard-metal-drill', 'reverse-tap'],
  'drill-head-off': ['hard-metal-drill'],
  'slot-head': ['metal-cutting-burr'],
  'burr-out': ['metal-cutting-burr'],
  'hollow-ream': ['hollow-reamer'],
  'extraction-sleeve': ['extraction-sleeve'],
};

/** Parting a jammed tap or extractor: the steps stand in the content. */
export const partingSteps = ({ phrases: { words } }: Content): string[] =>
  ['parting.1', 'parting.2', 'parting.3', 'parting.source'].flatMap((key) => words[key] ?? []);
