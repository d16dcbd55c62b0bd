import { For } from 'solid-js';
import { Bar } from './Bar.tsx';

/** Counts as bars, the most first: each as long as its share of the largest, its figure in words beside it. */
export function CountBars(props: {
  title: string;
  rows: readonly { name: string; count: number; told: string }[];
  none: string;
}) {
  const most = () => Math.max(1, ...props.rows.map(({ count }) => count));
  const sorted = () => [...props.rows].sort((a, b) => b.count - a.count);
  return (
    <section aria-label={props.title}>
      <h2>{props.title}</h2>
      <ul class="across-bars">
        <For each={sorted()} fallback={<li class="soft">{props.none}</li>}>
          {(row) => (
            <li class="across-bar-row">
              <span>{row.name}</span>
              <Bar parts={[{ share: row.count / most() }]} label={row.told} />
              <b class="figure">{row.told}</b>
            </li>
          )}
        </For>
      </ul>
    </section>
  );
}
