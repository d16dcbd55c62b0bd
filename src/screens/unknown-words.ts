import type { ToolId } from '../../content/ids.ts';
import type { Unknown } from '../../machines/ways.ts';
import type { App } from './app.ts';

/** What would have to be known, in words. */
export function unknownWord({ w, content }: Pick<App, 'w' | 'content'>, unknown: Unknown): string {
  if (!unknown.startsWith('tool:')) return w(`briefing.unknown.${unknown as 'drive'}`);
  return w('briefing.unknown.tool', { tool: content().phrases.tools[unknown.slice('tool:'.length) as ToolId].label });
}
