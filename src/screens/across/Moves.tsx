import { aimOf } from '../../../machines/across/aim.ts';
import { For, Show, createMemo, createSignal } from 'solid-js';
import { workingStages } from '../../../content/ids.ts';
import { wordsOfAny } from '../../../content/names.ts';
import { type Figures, type KindRow, type MoveRow, type Report, type Share } from '../../../machines/across/report.ts';
import { bare } from '../../format/figures.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { capital } from '../../format/prose.ts';
import { Grid } from './Grid.tsx';
import { IntervalBar } from './IntervalBar.tsx';
import { kindWords, minutesWords } from './words.ts';

/** Every move by its stage, in ladder order; a touch opens the figures of one. */
export function Moves(props: { report: Report }) {
  const app = useApp();
  const { w, content } = app;
  const [chosen, setChosen] = createSignal<string | null>(null);
  createLayoutGuard(chosen);
  const key = ({ stage, move }: { stage: string; move: string }) => `${stage} ${move}`;
  const shown = createMemo(() => props.report.moves.find((row) => key(row) === chosen()));
  const of = (row: MoveRow) => {
    const { count, of: all } = aimOf(row, content());
    const out = content().moves.find(({ id }) => id === row.move)?.aim === 'out';
    return w(out ? 'across.out' : 'across.aim', { count, of: all });
  };
  return (
    <Show
      when={shown()}
      fallback={
        <>
          <For each={workingStages}>
            {(stage) => (
              <Show when={props.report.moves.some((row) => row.stage === stage)}>
                <h2>{content().phrases.stages[stage].label}</h2>
                <For each={props.report.moves.filter((row) => row.stage === stage)}>
                  {(row) => (
                    <Touch size="card" class="across-row" onAct={() => setChosen(key(row))}>
                      <b class="across-move">{capital(wordsOfAny(content(), 'moves', row.move)?.glance ?? row.move)}</b>
                      <IntervalBar share={aimOf(row, content())} w={w} />
                      <span>
                        <b class="figure">{of(row)}</b>
                        <Show when={row.few}>
                          <i class="few">{w('across.few')}</i>
                        </Show>
                      </span>
                      <small class="across-time">{minutesWords(w, row.minutes)}</small>
                    </Touch>
                  )}
                </For>
              </Show>
            )}
          </For>
          <p class="small soft">
            {w('across.key', { below: props.report.few.below, source: props.report.few.source })} {w('across.rules')}
          </p>
        </>
      }
    >
      {(row) => (
        <Sheet
          title={w('across.move-title', {
            move: wordsOfAny(content(), 'moves', row().move)?.label ?? row().move,
            stage: content().phrases.stages[row().stage].label,
          })}
          close={w('across.to-moves')}
          onClose={() => setChosen(null)}
        >
          <Behind row={row()} kinds={props.report.kinds.filter((kind) => key(kind) === key(row()))} />
        </Sheet>
      )}
    </Show>
  );
}

/** The figures of one move as a table. */
function Behind(props: { row: MoveRow; kinds: readonly KindRow[] }) {
  const { w, content } = useApp();
  const cell = (share: Share) => (
    <>
      <b class="figure">{w('across.of', { count: share.count, of: share.of })}</b>{' '}
      <Show when={share.low !== null && share.high !== null}>
        <small class="figure">{w('across.interval', { low: bare(share.low), high: bare(share.high) })}</small>
      </Show>
    </>
  );
  const cells = (name: string, figures: Figures) => [
    <>
      {name}
      <Show when={figures.few}>
        <i class="few">{w('across.few')}</i>
      </Show>
    </>,
    cell(figures.out),
    cell(figures.gain),
    cell(figures.slipped),
    cell(figures.broke),
    minutesWords(w, figures.minutes),
  ];
  const ends = () =>
    Object.entries(props.row.ends)
      .map(([end, count]) =>
        w('across.end', {
          end: end === 'stopped' ? w('across.stopped') : (wordsOfAny(content(), 'outcomes', end)?.glance ?? end),
          count,
        }),
      )
      .join(', ');
  return (
    <div class="across-behind">
      <Grid
        caption={w('across.table-of')}
        head={[
          w('across.kind'),
          w('across.out-head'),
          w('across.gain-head'),
          w('across.slipped-head'),
          w('across.broke-head'),
          w('across.minutes-head'),
        ]}
        rows={[cells(w('across.all-kinds'), props.row), ...props.kinds.map((kind) => cells(kindWords(w, kind), kind))]}
        none=""
      />
      <p>{w('across.ends', { list: ends() })}</p>
      <Show when={props.row.wentOn > 0}>
        <p>{w('across.went-on', { count: props.row.wentOn })}</p>
      </Show>
    </div>
  );
}
