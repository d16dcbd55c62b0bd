import { For, Show } from 'solid-js';
import type { UseRow } from '../../../machines/across/tally.ts';
import { capital } from '../../format/prose.ts';
import { useApp } from '../app.ts';
import { Bar } from './Bar.tsx';
import { measureWords, toolWord } from './item-words.ts';

/** Drills, taps and reamers: how often each was used, and what entries say became of it. */
export function Uses(props: { uses: readonly UseRow[] }) {
  const app = useApp();
  const { w } = app;
  const most = () => Math.max(1, ...props.uses.map(({ uses }) => uses));
  const wrong = ({ slipped, broke, jammed }: UseRow) => slipped + broke + jammed;
  const told = (row: UseRow): string => {
    const ends = [
      ...(['slipped', 'broke', 'jammed'] as const).map((end) => [w(`across.use.${end}`), row[end]] as const),
      ...Object.entries(row.damage).map(([what, count]) => [w(`across.damage.${what}`), count] as const),
      [w('across.use.tip-missing'), row.tipMissing] as const,
    ].filter(([, count]) => count > 0);
    const key = row.uses === 0 ? 'across.used-none' : row.uses === 1 ? 'across.used-once' : 'across.used';
    const uses = w(key, { uses: row.uses, screws: row.screws });
    return [uses, ...ends.map(([word, count]) => `${word} ${count}`)].join(', ');
  };
  return (
    <section>
      <h2>{w('across.uses-title')}</h2>
      <Show when={props.uses.length > 0} fallback={<p class="soft">{w('across.none-used')}</p>}>
        <ul class="across-bars">
          <For each={props.uses}>
            {(row) => (
              <li class="across-bar-row">
                <span>
                  <b>{capital(toolWord(app, row.tool))}</b> <small>{measureWords(app, row.measures)}</small>
                </span>
                <Bar
                  parts={[{ share: (row.uses - wrong(row)) / most() }, { share: wrong(row) / most(), hollow: true }]}
                  label={told(row)}
                />
                <span>{told(row)}</span>
              </li>
            )}
          </For>
        </ul>
      </Show>
      <p class="small soft">{w('across.uses-rules')}</p>
    </section>
  );
}
