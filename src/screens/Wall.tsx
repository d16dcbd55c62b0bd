import { Show, createMemo } from 'solid-js';
import { inZone } from '../../machines/time.ts';
import { span } from '../parts/figures.ts';
import { useApp } from './app.ts';
import { GlanceLines } from './Glance.tsx';
import { glancePage } from './glance-page.ts';
import { capital } from './table/Cards.tsx';
import { answersFor } from './table/Outcomes.tsx';
import { createTable } from './table/state.ts';
import './glance.css';

/** A second window or screen: nothing to touch, it follows the first and says at once when it no longer does. */
export function Wall(props: { /** Sentence when the first window has fallen silent. */ stale: string | null }) {
  const app = useApp();
  const table = createTable(app);
  const side = () => app.w(`side.${app.open()?.folded.case.context.room.opened?.side ?? 'none'}`);
  const page = createMemo(() => {
    const view = app.view();
    return view
      ? glancePage(
          view,
          app.content(),
          app.w,
          side(),
          answersFor(table).map(({ label }) => label),
        )
      : null;
  });
  const holds = () =>
    [...(table.screw()?.holds ?? []), ...(app.view()?.holds ?? [])].map(
      (hold) => app.content().phrases.holds[hold].glance,
    );
  const clocks = () => app.view()?.clocks;
  return (
    <main class="glance wall">
      <Show when={page()} fallback={<h1 class="stage">{app.w('wall.waiting')}</h1>}>
        {(now) => (
          <GlanceLines
            page={now()}
            footMm={20}
            option={(option) => (
              <p class="glance-option">
                <span class="glance-number figure">{option.number}</span> {capital(option.label)}
              </p>
            )}
          />
        )}
      </Show>
      <footer class="glance-foot">
        <Show
          when={props.stale}
          fallback={
            <b>{holds().join(' · ') || `${side()} ${app.open()?.folded.case.context.room.opened?.bone ?? ''}`}</b>
          }
        >
          {(sentence) => (
            <b class="wall-stale" role="status">
              {sentence()}
            </b>
          )}
        </Show>
        <Show when={clocks()?.caseMinutes}>
          {(minutes) => (
            <span class="figure">
              {app.w('clock.case')} {span(minutes())}
            </span>
          )}
        </Show>
        <Show when={clocks()?.tourniquetUp}>
          <span class="figure">
            {app.w('clock.tourniquet')} {span(clocks()?.tourniquetMinutes ?? 0)}
          </span>
        </Show>
        <b class="figure">{inZone(app.tick(), app.open()?.folded.case.context.room.opened?.zone ?? 'UTC').time}</b>
      </footer>
    </main>
  );
}
