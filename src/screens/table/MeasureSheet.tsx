import { Sheet } from '../../parts/Sheet.tsx';
import { useApp } from '../app.ts';
import { Bone } from '../bone/Bone.tsx';
import type { EntryDraft } from '../../../machines/entry.ts';
import type { Table } from './state.ts';

/** The bone is measured before the move that waits for it; back leads to what still stands before that move. */
export function MeasureSheet(props: { table: Table }) {
  const { w } = useApp();
  const back = () =>
    props.table.pendingHolds().length > 0 ? props.table.setPanel({ kind: 'moves', page: 0 }) : props.table.home();
  const put = async (...drafts: EntryDraft[]) => (await props.table.record(...drafts)).ok;
  return (
    <Sheet title={w('before.measure')} close={w('table.back')} onClose={back}>
      <Bone put={put} />
    </Sheet>
  );
}
