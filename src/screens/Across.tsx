import { Match, Show, Switch, createSignal } from 'solid-js';
import { movedRates } from '../../machines/across/moved.ts';
import type { Report } from '../../machines/across/report.ts';
import { acrossCsv } from '../across/csv.ts';
import { download } from '../device/share.ts';
import { Choice } from '../parts/Choice.tsx';
import { Touch } from '../parts/Touch.tsx';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { acrossOf, type Numbers } from '../session/across.ts';
import { createLessons } from '../session/lessons.ts';
import { Moves } from './across/Moves.tsx';
import { Forecasts } from './across/Forecasts.tsx';
import { NextTool } from './across/NextTool.tsx';
import { DeadEndsAndTools, Holds, Rates, StayedIn } from './across/Others.tsx';
import { countedWords } from './across/words.ts';
import { useApp } from './app.ts';
import './across-style.ts';

const pages = ['moves', 'left', 'tools', 'holds', 'rates', 'forecast', 'buy'] as const;
type Page = (typeof pages)[number];

/** This department's own numbers, counted from the closed cases of this device. */
export function Across() {
  const app = useApp();
  const { w } = app;
  const across = acrossOf(app.session);
  const [page, setPage] = createSignal<Page>('moves');
  const [invented, setInvented] = createSignal(false);
  const [saved, setSaved] = createSignal(false);
  createLayoutGuard(page);
  const isLearned = () => page() === 'forecast' || page() === 'buy';
  const learned = createLessons(app, invented, isLearned);
  const moved = ({ rates }: Numbers) => movedRates(rates, app.content());
  const numbers = () => (invented() ? across.withInvented() : across.numbers());
  const leftOut = ({ cases }: Report) =>
    Object.entries(cases.not)
      .filter(([, count]) => count > 0)
      .map(([why, count]) => w(`across.not.${why}`, { count }))
      .join(', ');
  const save = () => {
    const now = numbers();
    if (!now) return;
    setSaved(
      download({
        ...{ name: 'counterturn-across.csv', type: 'text/csv' },
        content: acrossCsv(now.report, now.rates, [], { moved: moved(now), ...learned() }),
      }).ok,
    );
  };
  return (
    <main class="across">
      <header class="across-head">
        <h1>{w('across.title')}</h1>
        <p class="small" role="status">
          <Show
            when={numbers()}
            fallback={w('across.counting', { done: across.progress().done, of: across.progress().of })}
          >
            {(now) => (
              <>
                <b>{countedWords(w, now().report.cases.counted)}</b>
                {now().report.cases.days ? `, ${w('across.from-to', now().report.cases.days ?? {})}. ` : '. '}
                {leftOut(now().report) ? w('across.left-out', { list: leftOut(now().report) }) : ''}{' '}
                {invented() ? <b>{w('across.invented-in')}</b> : w('across.lead')}
              </>
            )}
          </Show>
        </p>
        <Show when={across.numbers()?.report.cases.not.invented}>
          <Touch pressed={invented()} onAct={() => setInvented(!invented())}>
            {w('across.invented')}
          </Touch>
        </Show>
        <Touch onAct={save} closed={numbers()?.report.cases.counted ? undefined : w('across.csv-none')}>
          {saved() ? w('across.csv-done') : w('across.csv')}
        </Touch>
        <Touch onAct={() => app.go('cases')}>{w('across.back')}</Touch>
      </header>
      <Show when={numbers()}>
        {(now) => (
          <Show when={now().report.cases.counted > 0} fallback={<p class="across-none">{w('across.none')}</p>}>
            <Choice
              label={w('across.pages')}
              hideLabel
              spread="fill"
              options={pages.map((value) => ({ value, label: w(`across.page.${value}`) }))}
              value={page()}
              onChoose={setPage}
            />
            <section class="across-body scrolls" tabindex="0" aria-label={w(`across.page.${page()}`)}>
              <Switch>
                <Match when={page() === 'moves'}>
                  <Moves report={now().report} />
                </Match>
                <Match when={page() === 'left'}>
                  <StayedIn report={now().report} />
                </Match>
                <Match when={page() === 'tools'}>
                  <DeadEndsAndTools report={now().report} />
                </Match>
                <Match when={page() === 'holds'}>
                  <Holds report={now().report} />
                </Match>
                <Match when={page() === 'rates'}>
                  <Rates rates={now().rates} moved={moved(now())} />
                </Match>
                <Match when={isLearned()}>
                  <Show when={learned()}>
                    {(found) => (
                      <>
                        <p class="small soft">
                          {w('across.reckoning', {
                            done: found().calibration.cases.reckoned,
                            of: found().calibration.cases.of,
                          })}
                        </p>
                        <Show when={page() === 'forecast'} fallback={<NextTool found={found().nextTool} />}>
                          <Forecasts found={found().calibration} />
                        </Show>
                      </>
                    )}
                  </Show>
                </Match>
              </Switch>
            </section>
          </Show>
        )}
      </Show>
    </main>
  );
}
