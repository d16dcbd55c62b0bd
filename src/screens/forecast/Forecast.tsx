import { For, Show, createSignal } from 'solid-js';
import { tickMinutes, type Outlook } from '../../../machines/forecast.ts';
import { figure, span } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { ranges } from '../../format/lists.ts';
import { Curve } from './Curve.tsx';
import { Looks } from './Looks.tsx';
import { Rates } from './Rates.tsx';
import { chance, createOutlook, ofHundred, restsOn, screwLines, told } from './outlook.ts';
import './forecast.css';

/** Duration and likely remains, for whoever plans the anaesthetic, with the rates behind them. */
export function Forecast() {
  const app = useApp();
  const { w } = app;
  const outlook = createOutlook(app);
  const [page, setPage] = createSignal<'forecast' | 'rates'>('forecast');
  createLayoutGuard(() => `${page()} ${outlook() !== null}`);
  const none = () => (app.open()?.folded.screws.size ?? 0) === 0;
  return (
    <Show
      when={page() === 'forecast'}
      fallback={<Rates used={outlook()?.rates ?? []} onBack={() => setPage('forecast')} />}
    >
      <Show when={outlook()} fallback={<p role="status">{none() ? w('plan.no-screws') : w('plan.working-out')}</p>}>
        {(found) => <Figures outlook={found()} onRates={() => setPage('rates')} />}
      </Show>
    </Show>
  );
}

function Figures(props: { outlook: Outlook; onRates: () => void }) {
  const app = useApp();
  const { w } = app;
  const worked = () => props.outlook.worked;
  const minutes = () => props.outlook.case.minutes;
  const time = (of: number) => span(told(of));
  /** What is still to come, as of the last entry. */
  const still = (of: number) => time(Math.max(0, of - (worked() ?? 0)));
  const planned = () => app.open()?.folded.case.context.theatreMinutes ?? null;
  const within = () => {
    const limit = planned();
    if (limit === null) return null;
    return props.outlook.ends.reduce((sum, share, tick) => sum + (tick * tickMinutes <= limit ? share : 0), 0);
  };
  const memory = () => Math.round(props.outlook.knows.memory * 100);
  /** Where nobody can say what bone or time would stop, coming out is only as likely as that if they allow it. */
  const isOpen = () => props.outlook.ignored.some((one) => one.startsWith('bone') || one.startsWith('time'));
  const ends = ['out', 'leftByChoice', 'stoppedAtBone', 'stoppedAtTime'] as const;
  return (
    <div class="forecast">
      <Show when={worked() !== null}>
        <p>
          <b>
            {w('plan.still', {
              low: still(minutes().p10),
              middle: still(minutes().p50),
              high: still(minutes().p90),
            })}
          </b>{' '}
          <span class="soft">{w('plan.so-far', { minutes: span(worked() ?? 0) })}</span>
        </p>
      </Show>
      <Show when={props.outlook.bone === 'broken'}>
        <p>{w('plan.bone-broken')}</p>
      </Show>
      <Looks outlook={props.outlook} />
      <p class="small">{w('plan.estimate')}</p>
      <Curve outlook={props.outlook} />
      <Show when={within() !== null}>
        <p class="small">{w('plan.within', { planned: span(planned() ?? 0), chance: ofHundred(within() ?? 0) })}</p>
      </Show>
      <p>
        {w(isOpen() ? 'plan.all-out-if' : 'plan.all-out', {
          out: chance(app, props.outlook.case.allOut),
          left: chance(app, props.outlook.case.anyStays),
        })}
      </p>
      <p>
        <b>{restsOn(app, props.outlook.knows)}</b>
      </p>
      <table class="forecast-screws">
        <thead>
          <tr>
            <th scope="col">{w('plan.col.screws')}</th>
            <For each={ends}>{(end) => <th scope="col">{w(`plan.col.${end}`)}</th>}</For>
            <th scope="col">{w('plan.col.moves')}</th>
            <th scope="col">{w('plan.col.minutes')}</th>
          </tr>
        </thead>
        <tbody>
          <For
            each={screwLines(props.outlook)}
            fallback={
              <tr>
                <td colspan="7">{w('plan.none-left')}</td>
              </tr>
            }
          >
            {(line) => (
              <tr>
                <th scope="row">{ranges(line.screws)}</th>
                <For each={ends}>
                  {(end) => {
                    const found = line[end];
                    return <td class="figure">{found ? chance(app, found) : w('plan.not-reckoned')}</td>;
                  }}
                </For>
                <td class="figure">{figure(line.moves.toFixed(1))}</td>
                <td class="figure">
                  {w('plan.three', {
                    low: told(line.minutes.p10),
                    middle: told(line.minutes.p50),
                    high: told(line.minutes.p90),
                  })}
                </td>
              </tr>
            )}
          </For>
        </tbody>
      </table>
      <div class="choice-row">
        <Touch onAct={() => props.onRates()} closed={app.rehearsal ? w('rehearsal.not-here') : undefined}>
          {w('plan.to-rates')}
          <small>{w('plan.memory-share', { memory: memory() })}</small>
        </Touch>
      </div>
      <section aria-label={w('plan.ignores')}>
        <h3>{w('plan.ignores')}</h3>
        <ul class="small">
          <For each={props.outlook.ignored}>{(one) => <li>{w(`plan.ignores.${one}`)}</li>}</For>
        </ul>
      </section>
      <p class="small soft">{w('plan.how')}</p>
    </div>
  );
}
