import { For, Show, createSignal } from 'solid-js';
import { workingStages, type WorkingStage } from '../../../content/ids.ts';
import { boneName } from '../../../content/names.ts';
import { type Calibration, type SortRow, type Tried } from '../../../machines/across/lessons.ts';
import { bare, figure, percent, span } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp, type App } from '../app.ts';
import { CalibrationPicture, MinutesPicture } from './CalibrationPicture.tsx';
import { Behind } from './Behind.tsx';
import { Grid } from './Grid.tsx';

/** A figure of sums of chances: to a tenth. */
const expected = (value: number) => figure(value.toFixed(1));

/** Which screws a row is of. */
export function sortWords(
  { w, content }: Pick<App, 'w' | 'content'>,
  { by, value }: Pick<SortRow, 'by' | 'value'>,
): string {
  if (by === 'stage' && (workingStages as readonly string[]).includes(value))
    return content().phrases.stages[value as WorkingStage].label;
  if (by === 'bone') return value === 'own-words' ? w('across.bone-own-words') : boneName(content(), value);
  return w(`across.sort.${by}.${value}`);
}

/** How many cases were reckoned, and how many of how many screws came out. */
export function Forecasts(props: { found: Calibration }) {
  const app = useApp();
  const { w } = app;
  const [behind, setBehind] = createSignal(false);
  createLayoutGuard(behind);
  const filled = () => props.found.tenths.filter(({ screws }) => screws > 0);
  const holding = () =>
    filled().filter(({ low, high, forecast }) => (low ?? 0) <= (forecast ?? 0) && (forecast ?? 0) <= (high ?? 1))
      .length;
  const sum = () => ({
    out: props.found.tenths.reduce((all, { out }) => all + out, 0),
    expected: props.found.tenths.reduce((all, one) => all + one.expected, 0),
  });
  const minutes = () => props.found.minutes;
  const ended = () => ({ cases: minutes().cases, median: minutes().byMedian, within: minutes().within });
  const tenthsTold = () =>
    filled()
      .map((one) =>
        w('across.tenth-told', { from: bare(one.from), to: bare(one.to), out: one.out, screws: one.screws }),
      )
      .join('; ');
  return (
    <Show
      when={behind()}
      fallback={
        <div class="plots">
          <CalibrationPicture
            tenths={props.found.tenths}
            label={w('across.calibration-picture', { tenths: tenthsTold() || '–' })}
            across={w('across.axis-forecast')}
            up={w('across.axis-out')}
          />
          <MinutesPicture
            rows={minutes().rows}
            label={w('across.minutes-picture', { ...ended() })}
            across={w('across.axis-planned')}
            up={w('across.axis-taken')}
            hour={(hours) => span(hours * 60)}
          />
          <div class="plots-told">
            <Show when={props.found.cases.reckoned > 0}>
              <p>
                <b>
                  {w('across.forecast-sum', {
                    screws: props.found.screws,
                    out: sum().out,
                    expected: expected(sum().expected),
                  })}
                </b>
              </p>
            </Show>
            <Show when={filled().length > 0}>
              <p class="small">{w('across.tenths-hold', { holding: holding(), of: filled().length })}</p>
            </Show>
            <Show when={minutes().cases > 0}>
              <p class="small">{w('across.minutes-hold', { ...ended() })}</p>
            </Show>
            <Touch onAct={() => setBehind(true)}>{w('across.tables')}</Touch>
          </div>
          <p class="small soft">{w('across.calibration-key')}</p>
          <Show when={left(app, props.found)}>{(words) => <p class="small">{words()}</p>}</Show>
        </div>
      }
    >
      <Behind title={w('across.forecast-title')} close={w('across.to-picture')} onClose={() => setBehind(false)}>
        <Tables found={props.found} />
      </Behind>
    </Show>
  );
}

/** What is in no figure, and why. */
function left({ w }: Pick<App, 'w'>, { notJudged, screws, bounded }: Calibration): string {
  const reasons = Object.entries(notJudged).map(([why, count]) => w(`across.not-judged.${why}`, { count }));
  return [
    ...(screws > bounded ? [w('across.unbounded', { count: screws - bounded })] : []),
    ...(reasons.length > 0 ? [w('across.not-judged', { list: reasons.join(', ') })] : []),
  ].join(' ');
}

function Tables(props: { found: Calibration }) {
  const app = useApp();
  const { w } = app;
  const of = ({ out, screws }: Tried) => (screws === 0 ? '–' : w('across.of', { count: out, of: screws }));
  const interval = ({ low, high }: Tried) =>
    low === null || high === null ? '–' : w('across.interval', { low: bare(low), high: bare(high) });
  const head = [w('across.out-head'), w('across.expected'), w('across.mean-forecast'), w('across.interval-head')];
  const cells = (row: Tried) => [of(row), expected(row.expected), percent(row.forecast), interval(row)];
  const few = (row: SortRow) => (
    <>
      {sortWords(app, row)}
      <Show when={row.few}>
        <i class="few">{w('across.few')}</i>
      </Show>
    </>
  );
  const untimed = () =>
    Object.entries(props.found.minutes.notTimed)
      .map(([why, count]) => w(`across.not-timed.${why}`, { count }))
      .join(', ');
  return (
    <div class="across-behind">
      <Grid
        caption={w('across.by-tenth')}
        head={[w('across.axis-forecast'), ...head]}
        rows={props.found.tenths.map((row) => [
          w('across.interval', { low: bare(row.from), high: bare(row.to) }),
          ...cells(row),
        ])}
        none=""
      />
      <For each={['stage', 'locking', 'months', 'bone'] as const}>
        {(by) => (
          <Grid
            caption={w(`across.by.${by}`)}
            head={[w('across.kind'), ...head]}
            rows={props.found.sorts.filter((row) => row.by === by).map((row) => [few(row), ...cells(row)])}
            none={w('across.none-judged')}
          />
        )}
      </For>
      <Grid
        caption={w('across.minutes-head')}
        head={[w('across.axis-planned'), w('across.plan-band'), w('across.axis-taken')]}
        rows={props.found.minutes.rows.map(({ p10, p50, p90, taken }) => [
          span(p50),
          w('across.minutes-band', { low: span(p10), high: span(p90) }),
          span(taken),
        ])}
        none={w('across.none-timed')}
      />
      <Show when={untimed()}>
        <p class="small">{w('across.not-judged', { list: untimed() })}</p>
      </Show>
      <p class="small soft">{w('across.calibration-rules')}</p>
    </div>
  );
}
