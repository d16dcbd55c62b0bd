import { Show } from 'solid-js';
import type { OverlayFile } from '../../../content/overlay.types.ts';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { Changes } from './Changes.tsx';
import { oneLine, type Edit } from './draft.ts';
import { FaultList } from '../Faults.tsx';
import { FieldFaults } from './Faults.tsx';

/** Whose it is and why; everything that differs from the release; and the saving, which a fault closes. */
export function SavePart(props: {
  edit: Edit;
  same: (overlay: OverlayFile) => boolean;
  onSave: (overlay: OverlayFile) => void;
}) {
  const { w } = useApp();
  const why = () => {
    if (props.edit.faults().length > 0) return w('department.has-faults', { count: props.edit.faults().length });
    return props.same(props.edit.whole()) ? w('department.nothing-changed') : undefined;
  };
  return (
    <>
      <div>
        <TextEntry
          label={w('department.name')}
          value={props.edit.draft().name}
          rows={1}
          onInput={(name) => props.edit.change({ name: oneLine(name) })}
        />
        <FieldFaults faults={props.edit.faultsAt('name')} />
      </div>
      <div>
        <TextEntry
          label={w('department.reason')}
          value={props.edit.draft().reason}
          rows={2}
          onInput={(reason) => props.edit.change({ reason: oneLine(reason) })}
        />
        <FieldFaults faults={props.edit.faultsAt('reason')} />
      </div>
      <Show
        when={props.edit.faults().length === 0}
        fallback={
          <section aria-label={w('department.faults')}>
            <h2>{w('department.faults')}</h2>
            <FaultList faults={props.edit.faults()} />
          </section>
        }
      >
        <Changes overlay={props.edit.whole()} />
      </Show>
      <div class="choice-row">
        <Touch onAct={() => props.onSave(props.edit.whole())} closed={why()}>
          <span>{w('department.save')}</span>
          <small class="figure">{props.edit.whole().version}</small>
        </Touch>
      </div>
    </>
  );
}
