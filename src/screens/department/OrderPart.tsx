import { For, createSignal } from 'solid-js';
import { workingStages, type WorkingStage } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Edit } from './draft.ts';
import { FieldFaults } from './Faults.tsx';

/** The ladder stage by stage: which move stands before which, and which are not used here. */
export function OrderPart(props: { edit: Edit }) {
  const { w, content } = useApp();
  const [stage, setStage] = createSignal<WorkingStage>('recess-stripped');
  createLayoutGuard(() => `${stage()} ${props.edit.order().join()}`);
  const moves = () => props.edit.inStage(stage());
  const label = (id: ReturnType<typeof moves>[number]) => props.edit.word('moves', id, 'label');
  const why = (index: number, by: -1 | 1) => {
    if (by === -1) return index === 0 ? w('department.first') : undefined;
    return index >= moves().length - 2 ? w('department.last') : undefined;
  };
  return (
    <>
      <p class="small soft">{w('department.order-lead')}</p>
      <Choice
        label={w('department.stage')}
        options={workingStages.map((value) => ({ value, label: content().phrases.stages[value].label }))}
        value={stage()}
        onChoose={setStage}
      />
      <ol class="order-rows">
        <For each={moves()}>
          {(id, index) => (
            <li class="order-row">
              <b class="figure">{index() + 1}</b>
              <span class="order-move">{label(id)}</span>
              {id === 'leave-in' ? (
                <small class="soft">{w('department.stays')}</small>
              ) : (
                <>
                  <Touch
                    onAct={() => props.edit.shift(stage(), id, -1)}
                    closed={why(index(), -1)}
                    label={why(index(), -1) ? undefined : w('department.up-of', { move: label(id) })}
                  >
                    {w('department.up')}
                  </Touch>
                  <Touch
                    onAct={() => props.edit.shift(stage(), id, 1)}
                    closed={why(index(), 1)}
                    label={why(index(), 1) ? undefined : w('department.down-of', { move: label(id) })}
                  >
                    {w('department.down')}
                  </Touch>
                  <Touch
                    pressed={!props.edit.isUsed(id)}
                    label={w('department.not-used-of', { move: label(id) })}
                    onAct={() => props.edit.setUsed(id, !props.edit.isUsed(id))}
                  >
                    {content().phrases.closed['not-used-here']}
                  </Touch>
                </>
              )}
            </li>
          )}
        </For>
      </ol>
      <FieldFaults faults={[...props.edit.faultsAt('order'), ...props.edit.faultsAt('notUsed')]} />
    </>
  );
}
