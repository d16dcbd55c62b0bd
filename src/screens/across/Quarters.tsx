import { For, Show } from 'solid-js';
import type { QuarterRow } from '../../../machines/across/quarters.ts';
import { percent } from '../../format/figures.ts';
import { useApp } from '../app.ts';
import { Scale } from './CalibrationPicture.tsx';
import { IntervalBar } from './IntervalBar.tsx';

/** Share of cases in which something stayed, a row a quarter: the interval is as wide as so few cases make it. */
export function Quarters(props: { rows: readonly QuarterRow[] }) {
  const { w } = useApp();
  const name = ({ quarter }: QuarterRow) => quarter ?? w('across.no-day');
  return (
    <section aria-label={w('across.quarters')}>
      <h2>{w('across.quarters')}</h2>
      <ul class="across-bars">
        <For each={props.rows}>
          {(row) => (
            <li class="across-bar-row">
              <b class="figure">{name(row)}</b>
              <IntervalBar share={row} w={w} />
              <span>
                <Show when={row.of > 0} fallback={w('across.no-share')}>
                  <b class="figure">{w('across.so-many-of', { count: row.count, of: row.of })}</b>{' '}
                  <span class="figure soft">
                    {percent(row.low)} – {percent(row.high)}
                  </span>
                </Show>
                <Show when={row.unsaid > 0}> · {w('across.cases-unsaid', { count: row.unsaid })}</Show>
              </span>
            </li>
          )}
        </For>
        <li class="across-bar-row across-bar-ends" aria-hidden="true">
          <span />
          <Scale ends={['0', '50', '100 %']} />
        </li>
      </ul>
      <p class="small soft">{w('across.quarters-rules')}</p>
    </section>
  );
}
