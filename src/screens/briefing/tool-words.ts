import type { RoomTool } from '../../../machines/case.context.ts';
import type { App } from '../app.ts';
import { listed } from './step.ts';

/** A tool that stands in the room with its measures in words; empty when it has none. */
export function measuresOf({ w }: App, { fits, size, outer, inner }: RoomTool): string {
  return [
    ...(fits ? [w('briefing.tool-fits', { diameters: listed(fits) })] : []),
    ...(size !== undefined ? [w('briefing.tool-size', { size })] : []),
    ...(inner !== undefined ? [w('briefing.tool-inner', { inner })] : []),
    ...(outer !== undefined ? [w('briefing.tool-outer', { outer })] : []),
  ].join(', ');
}
