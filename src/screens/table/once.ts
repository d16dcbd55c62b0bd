import type { EntryDraft } from '../../../machines/entry.ts';
import type { Table } from './state.ts';

/**
 * Records what a touch on a sheet says, and closes the sheet once that is on disk; refused, it stays open.
 *
 * @example void once(props.table, { type: 'washed-out' })
 */
export async function once(table: Table, draft: EntryDraft): Promise<void> {
  if ((await table.record(draft)).ok) table.home();
}
