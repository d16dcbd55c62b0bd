/** A case under the second ladder at the table, for the tests of its screens. */
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { messagesOf } from '../../src/format/messages.ts';
import { opening } from './rooms.harness.tsx';

await fetchReleases();
export const content = loadContent('2026.2-draft') as Content;
export const { phrases } = content;
export const w = messagesOf(content);

type Listed = Extract<EntryDraft, { type: 'screw-listed' }>;

/** A plain cortical screw of 4.5 mm in a hexagonal steel head. */
export const listed = (screw: string, more: Partial<Listed> = {}): EntryDraft => ({
  ...({ type: 'screw-listed', screw, diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' } as const),
  ...({ material: 'steel', length: 36, cortices: 2 } as const),
  ...more,
});

export const measured = { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' } as const;

export interface Case {
  screws?: EntryDraft[];
  bone?: EntryDraft | null;
  then?: EntryDraft[];
  opened?: Partial<typeof opening>;
  tools?: readonly (typeof content.ids.tools)[number][];
  called?: string;
}

/** The drafts of a case at the table, screw "1" called unless said otherwise. */
export const drafts = ({
  screws = [listed('1')],
  bone = measured,
  then = [],
  opened = {},
  tools = content.ids.tools,
  called = '1',
}: Case = {}): EntryDraft[] => [
  { ...opening, ...opened },
  ...(bone ? [bone] : []),
  ...screws,
  ...tools.map((tool): EntryDraft => ({ type: 'tool-in-room', tool, present: true })),
  { type: 'work-started' },
  { type: 'screw-called', screw: called },
  ...then,
];

/** What a session needs for a new case to be one of the second ladder. */
export const second = { pin: () => ({ contentVersion: '2026.2-draft' }) };

/** A move with its end. */
export const moved = (
  move: Extract<EntryDraft, { type: 'move-started' }>['move'],
  outcome: Extract<EntryDraft, { type: 'move-ended' }>['outcome'],
  more: Partial<Extract<EntryDraft, { type: 'move-started' }>> = {},
  end: Partial<Extract<EntryDraft, { type: 'move-ended' }>> = {},
): EntryDraft[] => [
  { type: 'move-started', screw: '1', move, ...more },
  { type: 'move-ended', screw: more.screw ?? '1', outcome, ...end },
];
