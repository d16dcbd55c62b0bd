import { For } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { toolSets } from '../../session/tool-sets.ts';
import { useApp } from '../app.ts';
import type { Edit } from './draft.ts';
import { FieldFaults } from './Faults.tsx';

/** Sets of tools that every new briefing offers: taken from those saved on this device, with their real sizes. */
export function ToolSetsPart(props: { edit: Edit }) {
  const { w } = useApp();
  const own = () => props.edit.draft().toolSets ?? [];
  const offered = () => [
    ...own(),
    ...toolSets()
      .value()
      .filter(({ name }) => !own().some((set) => set.name === name)),
  ];
  const isIn = (name: string) => own().some((set) => set.name === name);
  const toggle = (name: string) => {
    const rest = own().filter((set) => set.name !== name);
    const found = offered().find((set) => set.name === name);
    props.edit.change({ toolSets: isIn(name) || !found ? rest : [...rest, found] });
  };
  return (
    <>
      <p class="small soft">{w('department.tool-sets-lead')}</p>
      <div class="choice-row">
        <For each={offered()} fallback={<p>{w('department.tool-sets-none')}</p>}>
          {(set) => (
            <Touch pressed={isIn(set.name)} onAct={() => toggle(set.name)}>
              {w('department.tool-set-of', { name: set.name, count: set.tools.length })}
            </Touch>
          )}
        </For>
      </div>
      <FieldFaults faults={props.edit.faultsAt('toolSets')} />
    </>
  );
}
