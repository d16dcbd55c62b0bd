import { Match, Show, Switch, createSignal } from 'solid-js';
import type { OverlayFile } from '../../../content/overlay.types.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import type { Department } from '../../session/department.ts';
import { useApp } from '../app.ts';
import { createEdit } from './draft.ts';
import { FiguresPart } from './FiguresPart.tsx';
import { LinesPart } from './LinesPart.tsx';
import { OrderPart } from './OrderPart.tsx';
import { OwnPoints } from './OwnPoints.tsx';
import { SavePart } from './SavePart.tsx';
import { SourcesPart } from './SourcesPart.tsx';
import { ToolSetsPart } from './ToolSetsPart.tsx';
import { WordsPart } from './WordsPart.tsx';

const parts = ['order', 'figures', 'consent', 'lines', 'words', 'tools', 'save'] as const;
type Part = (typeof parts)[number];

interface EditorProps {
  kept: Department;
  /** ISO 8601 */
  today: string;
  onSave: (overlay: OverlayFile) => void;
  onGiveUp: () => void;
}

/** The work on a new version, from the one in use or from the release, a part at a time. */
export function Editor(props: EditorProps) {
  const { w } = useApp();
  // The work belongs to the version that it started from.
  // eslint-disable-next-line solid/reactivity
  const edit = createEdit(props.kept, props.kept.inUse(), props.today);
  const [part, setPart] = createSignal<Part>('order');
  createLayoutGuard(part);
  /** Is a version kept that differs in nothing but number, day and reason? */
  const same = (overlay: OverlayFile) => {
    const bare = ({ version: _, changedOn: __, reason: ___, ...rest }: OverlayFile) => JSON.stringify(rest);
    return props.kept.versions().some((one) => bare(one) === bare(overlay));
  };
  const toMend = () => edit.faults().filter(({ path }) => path !== 'name' && path !== 'reason').length;
  return (
    <>
      <Choice
        label={w('department.part')}
        hideLabel
        options={parts.map((value) => ({ value, label: w(`department.part.${value}`) }))}
        value={part()}
        onChoose={setPart}
      />
      <Switch>
        <Match when={part() === 'order'}>
          <OrderPart edit={edit} />
        </Match>
        <Match when={part() === 'figures'}>
          <FiguresPart edit={edit} />
        </Match>
        <Match when={part() === 'consent'}>
          <WordsPart edit={edit} only="consent" />
          <OwnPoints edit={edit} />
        </Match>
        <Match when={part() === 'lines'}>
          <LinesPart edit={edit} />
          <SourcesPart edit={edit} />
        </Match>
        <Match when={part() === 'words'}>
          <WordsPart edit={edit} />
        </Match>
        <Match when={part() === 'tools'}>
          <ToolSetsPart edit={edit} />
        </Match>
        <Match when={part() === 'save'}>
          <SavePart edit={edit} same={same} onSave={(overlay) => props.onSave(overlay)} />
        </Match>
      </Switch>
      <div class="choice-row edit-end">
        <Show when={toMend() > 0 && part() !== 'save'}>
          <p class="small" role="status">
            {w('department.has-faults', { count: toMend() })}
          </p>
        </Show>
        <Touch consequential onAct={() => props.onGiveUp()}>
          {w('department.give-up')}
        </Touch>
      </div>
    </>
  );
}
