import type { RoomTool } from '../../../machines/case.context.ts';
import type { Folded } from '../../../machines/folded.ts';
import type { App } from '../app.ts';
import { listed, ranges } from '../../format/lists.ts';
import { undriven } from './tool-groups.ts';

/** A tool that stands in the room with its measures in words; empty when it has none. */
export function measuresOf({ w }: App, { fits, size, outer, inner }: RoomTool): string {
  return [
    ...(fits ? [w('briefing.tool-fits', { diameters: listed(fits) })] : []),
    ...(size !== undefined ? [w('briefing.tool-size', { size })] : []),
    ...(inner !== undefined ? [w('briefing.tool-inner', { inner })] : []),
    ...(outer !== undefined ? [w('briefing.tool-outer', { outer })] : []),
  ].join(', ');
}

/** A sentence for each driver that is missing from the room. */
export const undrivenWords = ({ w }: App, folded: Folded): string[] =>
  undriven(folded).map(({ screws, tool }) =>
    w('briefing.no-driver', { screws: ranges(screws), tool: folded.content.phrases.tools[tool].label }),
  );
