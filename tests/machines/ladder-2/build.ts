/** Logs under the second ladder, and the same under the first, for the tests. Invented cases only. */
import { loadContent } from '../../../content/catalog.ts';
import { fetchReleases } from '../../../content/later.ts';
import type { Content } from '../../../content/types.ts';
import type { ToolId } from '../../../content/ids.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import { content as first, Log } from '../build.ts';

await fetchReleases();

export { first };
export const second = loadContent('2026.2-draft') as Content;

type More<T extends 'screw-listed' | 'case-opened'> = Partial<Omit<EntryOf<T>, 'n' | 'type' | 'seal'>>;

/** Every tool of a content, without sizes. */
export const everyTool = (content: Content): ToolId[] => [...content.ids.tools];

export interface Opened {
  facts?: More<'screw-listed'>;
  opened?: More<'case-opened'>;
  tools?: readonly ToolId[];
  content?: Content;
}

/** An opened tibia of 27/5 mm with one screw "1" of 4.5 × 36 mm, these tools in the room and the work begun; in format 2. */
export const atTable = ({ facts, opened, tools, content = second }: Opened = {}): Log =>
  new Log(undefined, content)
    .opened({ rules: 2, ...opened })
    .bone(27, 5)
    .screw('1', facts)
    .room(...(tools ?? everyTool(content)))
    .start();

/** The same log under 2026.1 and 2026.2. */
export const both = (more: Omit<Opened, 'content'>, on: (log: Log) => Log): { before: Log; now: Log } => ({
  before: on(atTable({ ...more, tools: more.tools ?? everyTool(first), content: first })),
  now: on(atTable({ ...more, content: second })),
});

/** A screw in no plate. */
export const loose = { opened: { construct: 'screws' } } as const;
