import type { Fault } from '../../../content/shape.ts';
import { For, createSignal } from 'solid-js';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Edit } from './draft.ts';
import { FieldFaults } from './Faults.tsx';

interface LinesProps {
  label: string;
  /** Lines of the release: they stand, and cannot be taken away. */
  fixed?: readonly string[];
  lines: readonly string[];
  faults: readonly Fault[];
  onChange: (lines: readonly string[]) => void;
}

/** Lines that are added, and taken away again. */
export function Lines(props: LinesProps) {
  const { w } = useApp();
  const [text, setText] = createSignal('');
  createLayoutGuard(() => props.lines.length);
  const typed = () => text().replace(/\s+/g, ' ').trim();
  const why = () => {
    if (typed() === '') return w('department.nothing-typed');
    return props.lines.includes(typed()) ? w('department.there-already') : undefined;
  };
  return (
    <section class="lines" aria-label={props.label}>
      <h2>{props.label}</h2>
      <ul class="small soft">
        <For each={props.fixed ?? []}>{(line) => <li>{line}</li>}</For>
      </ul>
      <ul class="own-lines">
        <For each={props.lines}>
          {(line) => (
            <li>
              <span>{line}</span>
              <Touch
                label={w('department.take-away-of', { line })}
                onAct={() => props.onChange(props.lines.filter((other) => other !== line))}
              >
                {w('department.take-away')}
              </Touch>
            </li>
          )}
        </For>
      </ul>
      <FieldFaults faults={props.faults} />
      <TextEntry label={w('department.new-line', { of: props.label })} value={text()} rows={2} onInput={setText} />
      <div class="choice-row">
        <Touch
          onAct={() => {
            props.onChange([...props.lines, typed()]);
            setText('');
          }}
          closed={why()}
        >
          {w('department.add')}
        </Touch>
      </div>
    </section>
  );
}

/** Local policy and cautions of the department's own; those of the release stand above them. */
export function LinesPart(props: { edit: Edit }) {
  const { w } = useApp();
  const draft = () => props.edit.draft();
  return (
    <>
      <Lines
        label={w('department.policy')}
        lines={draft().policy ?? []}
        faults={props.edit.faultsAt('policy')}
        onChange={(lines) => props.edit.change({ policy: [...lines] })}
      />
      <Lines
        label={w('department.cautions')}
        fixed={props.edit.release.phrases.cautions}
        lines={draft().cautions?.standing ?? []}
        faults={props.edit.faultsAt('cautions.standing')}
        onChange={(lines) => props.edit.change({ cautions: { ...draft().cautions, standing: [...lines] } })}
      />
    </>
  );
}
