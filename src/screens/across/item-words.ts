/** Tools by id and size in words. */
import type { ToolId } from '../../../content/ids.ts';
import { wordsOfAny } from '../../../content/names.ts';
import type { Item } from '../../../machines/across/needs.ts';
import type { Measures } from '../../../machines/across/uses.ts';
import { figure } from '../../format/figures.ts';
import { listed } from '../../format/lists.ts';
import type { App } from '../app.ts';

type Words = Pick<App, 'w' | 'content'>;

export const toolWord = ({ content }: Pick<App, 'content'>, tool: ToolId): string =>
  wordsOfAny(content(), 'tools', tool)?.label ?? tool;

/** A tool to buy, with its size: of a driver its own, of others the screws that it is for. */
export function itemWords(app: Words, { tool, size }: Item): string {
  const name = toolWord(app, tool);
  if (size === null) return name;
  const values = { tool: name, size: figure(size) };
  return tool.startsWith('driver-') ? app.w('across.item-own', values) : app.w('across.item-for', values);
}

/** Which one of a kind, by the measures that were entered. */
export function measureWords({ w }: Words, measures: Measures | null): string {
  if (measures === null) return w('across.not-told-apart');
  const { fits, inner, outer } = measures;
  return (
    [
      ...(fits ? [w('briefing.tool-fits', { diameters: listed(fits) })] : []),
      ...(inner !== undefined ? [w('briefing.tool-inner', { inner })] : []),
      ...(outer !== undefined ? [w('briefing.tool-outer', { outer })] : []),
    ].join(', ') || w('across.no-size')
  );
}
