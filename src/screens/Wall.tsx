import { Show } from 'solid-js';
import type { HoldId } from '../../content/ids.ts';
import { span } from '../format/figures.ts';
import { createGlance, GlanceClocks, GlanceLines, GlanceOptionWords } from './Glance.tsx';
import './glance-style.ts';

/** By the second ladder count and clocks are asked of the nurse. */
const nurses: readonly HoldId[] = ['count', 'shavings', 'tourniquet', 'time'];

/** A second window or screen: nothing to touch, it follows the first and says at once when it no longer does. */
export function Wall(props: { /** Sentence when the first window has fallen silent. */ stale: string | null }) {
  const { app, table, page, where } = createGlance();
  const holds = () =>
    [...(table.screw()?.holds ?? []), ...(app.view()?.holds ?? [])]
      .filter((hold) => !table.isSecond() || !nurses.includes(hold))
      .map((hold) => app.content().phrases.holds[hold].glance);
  const clocks = () => app.view()?.clocks;
  return (
    <main class="glance wall">
      <Show when={page()} fallback={<h1 class="stage">{app.w('wall.waiting')}</h1>}>
        {(now) => (
          <GlanceLines
            page={now()}
            option={(option) => (
              <p class="glance-option">
                <GlanceOptionWords option={option} />
              </p>
            )}
          />
        )}
      </Show>
      <footer class="glance-foot">
        <Show when={props.stale} fallback={<b>{holds().join(' · ') || where()}</b>}>
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
        <GlanceClocks />
      </footer>
    </main>
  );
}
