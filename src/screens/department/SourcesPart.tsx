import { For, Show, createSignal } from 'solid-js';
import { unsourced } from '../../../content/check.ts';
import { statuses, type SourceRow, type SourceStatus } from '../../../content/types.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { oneLine, type Edit } from './draft.ts';
import { FieldFaults } from './Faults.tsx';

/** How a department may know what it adds; what it sets itself is told by its own version. */
const known = statuses.filter((status) => status !== 'department');
/** The citation that goes with a status, where there is no source to name. */
const citationOf: Partial<Record<SourceStatus, string>> = unsourced;

/** The first id of the form `own-1` that no row has. */
function freeId(rows: readonly SourceRow[]): string {
  let n = 1;
  while (rows.some(({ id }) => id === `own-${n}`)) n++;
  return `own-${n}`;
}

/** Sources that the department adds, each with what it says, who says so and how that is known. */
export function SourcesPart(props: { edit: Edit }) {
  const { w } = useApp();
  const rows = () => props.edit.draft().sources ?? [];
  const [what, setWhat] = createSignal('');
  const [cite, setCite] = createSignal('');
  const [status, setStatus] = createSignal<SourceStatus | null>(null);
  const fixed = () => citationOf[status() ?? 'seen'];
  createLayoutGuard(() => `${rows().length} ${fixed()}`);
  const typed = () => ({ what: oneLine(what()).trim(), cite: fixed() ?? oneLine(cite()).trim() });
  const why = () => {
    if (typed().what === '' || typed().cite === '') return w('department.nothing-typed');
    return status() === null ? w('department.status-open') : undefined;
  };
  const add = () => {
    const chosen = status();
    if (chosen === null) return;
    props.edit.change({ sources: [...rows(), { id: freeId(rows()), ...typed(), status: chosen }] });
    setWhat('');
    setCite('');
    setStatus(null);
  };
  return (
    <section class="lines" aria-label={w('department.sources')}>
      <h2>{w('department.sources')}</h2>
      <ul class="own-lines">
        <For each={rows()}>
          {(row) => (
            <li>
              <span>
                {row.what}: {row.cite} ({w(`status.${row.status}`)})
              </span>
              <Touch
                label={w('department.take-away-of', { line: row.what })}
                onAct={() => props.edit.change({ sources: rows().filter(({ id }) => id !== row.id) })}
              >
                {w('department.take-away')}
              </Touch>
            </li>
          )}
        </For>
      </ul>
      <FieldFaults faults={props.edit.faultsAt('sources')} />
      <TextEntry label={w('department.source-what')} value={what()} rows={2} onInput={setWhat} />
      <Choice
        label={w('department.source-status')}
        options={known.map((value) => ({ value, label: w(`settings.status.${value}`) }))}
        value={status()}
        onChoose={setStatus}
      />
      <Show when={fixed() === undefined}>
        <TextEntry label={w('department.source-cite')} value={cite()} rows={2} onInput={setCite} />
      </Show>
      <div class="choice-row">
        <Touch onAct={add} closed={why()}>
          {w('department.add-source')}
        </Touch>
      </div>
    </section>
  );
}
