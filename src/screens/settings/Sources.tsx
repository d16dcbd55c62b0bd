import { For, createSignal } from 'solid-js';
import { statuses, type SourceStatus } from '../../../content/types.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';

/** Every figure and statement of the content with where it comes from and how far it can be trusted. */
export function Sources() {
  const app = useApp();
  const { w } = app;
  const [only, setOnly] = createSignal<SourceStatus | 'all'>('all');
  createLayoutGuard(only);
  const rows = () => app.content().sources;
  const of = (status: SourceStatus) => rows().filter((row) => row.status === status);
  const shown = () => {
    const status = only();
    return status === 'all' ? rows() : of(status);
  };
  return (
    <>
      <Choice
        label={w('settings.sources-lead', { version: app.content().version, count: rows().length })}
        options={[
          { value: 'all' as const, label: w('settings.all', { count: rows().length }) },
          ...statuses.map((value) => ({
            value,
            label: w('settings.status-count', { status: w(`settings.status.${value}`), count: of(value).length }),
          })),
        ]}
        value={only()}
        onChoose={setOnly}
      />
      <ul class="sources">
        <For each={shown()}>
          {(row) => (
            <li>
              <span>{row.what}</span>
              <span class="small">
                <b>{w(`status.${row.status}`)}</b> · {row.cite}
              </span>
            </li>
          )}
        </For>
      </ul>
    </>
  );
}
