import { Show, createMemo } from 'solid-js';
import type { HoldId } from '../../content/ids.ts';
import { span } from '../format/figures.ts';
import { createGlance, GlanceClocks, GlanceLines, GlanceOptionWords, linesSize } from './Glance.tsx';
import { createRoomOf } from './size.ts';
import { WallAside } from './WallAside.tsx';
import './glance-style.ts';

/** By the second ladder count and clocks are asked of the nurse. */
const nurses: readonly HoldId[] = ['count', 'shavings', 'tourniquet', 'time'];

/** Share of the width that the lines keep where pictures stand beside them; see `glance.css`. */
const linesShare = 0.56;

/** A second window or screen: nothing to touch, it follows the first and says at once when it no longer does. */
export function Wall(props: { /** Sentence when the first window has fallen silent. */ stale: string | null }) {
  const { app, table, page, where } = createGlance();
  const holds = () =>
    [...(table.screw()?.holds ?? []), ...(app.view()?.holds ?? [])]
      .filter((hold) => !table.isSecond() || !nurses.includes(hold))
      .map((hold) => app.content().phrases.holds[hold].glance);
  const clocks = () => app.view()?.clocks;
  const { room, ref } = createRoomOf(app, { width: 0, height: 0 });
  /** Wide enough for pictures beside the lines, which lose nothing of their size by it. */
  const isWide = createMemo(() => {
    const now = page();
    const { width, height } = room();
    if (!now || width <= height) return false;
    const [whole, part] = [width, width * linesShare].map((wide) =>
      linesSize(now, app.preferences().distance, { width: wide, height }),
    );
    return whole?.fits === true && part?.arcminutes === whole.arcminutes && part.fits;
  });
  return (
    <main class="glance wall">
      <Show when={page()} fallback={<h1 class="stage">{app.w('wall.waiting')}</h1>}>
        {(now) => (
          <div class="wall-room" data-wide={isWide() ? '' : undefined} ref={ref}>
            <GlanceLines
              page={now()}
              option={(option) => (
                <p class="glance-option">
                  <GlanceOptionWords option={option} />
                </p>
              )}
            />
            <Show when={isWide()}>
              <WallAside table={table} />
            </Show>
          </div>
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
