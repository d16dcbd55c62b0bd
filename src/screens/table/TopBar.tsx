import { Show, createMemo } from 'solid-js';
import { boneName } from '../../../content/names.ts';
import { inZone } from '../../../machines/time.ts';
import { Clock } from '../../parts/Clock.tsx';
import { span } from '../../format/figures.ts';
import { useApp } from '../app.ts';
import { sideWord } from '../cases/side-word.ts';

/** Case, side and bone as words, and every clock; the second that ticks shows that the screen is alive. */
export function TopBar() {
  const app = useApp();
  const opened = () => app.open()?.folded.case.context.room.opened;
  const clocks = () => app.view()?.clocks;
  const limit = () => app.open()?.folded.case.context.tourniquetLimit ?? null;
  /** Of its limit, by whole minutes: nothing is drawn anew within one. */
  const share = createMemo(() => {
    const of = limit();
    return of === null || of <= 0 ? undefined : Math.floor(clocks()?.tourniquetMinutes ?? 0) / of;
  });
  return (
    <header class="bar">
      <b class="bar-label">{opened()?.label}</b>
      <b class="bar-side">
        {sideWord(app.w, opened()?.side ?? '')} {boneName(app.content(), opened()?.bone ?? '')}
      </b>
      <Show when={app.open()?.meta.demo}>
        <b class="bar-demo">{app.w('table.invented')}</b>
      </Show>
      <span class="bar-clocks">
        <Show when={clocks()?.caseMinutes}>
          {(minutes) => <Clock label={app.w('clock.case')} reading={span(minutes())} />}
        </Show>
        <Show when={clocks()?.moveMinutes !== null && clocks()?.moveMinutes !== undefined}>
          <Clock label={app.w('clock.move')} reading={span(clocks()?.moveMinutes ?? 0, true)} />
        </Show>
        <Show when={clocks()?.tourniquetUp}>
          <Clock
            label={app.w('clock.tourniquet')}
            reading={span(clocks()?.tourniquetMinutes ?? 0)}
            of={limit() === null ? undefined : app.w('clock.of', { limit: limit() ?? '' })}
            share={share()}
          />
        </Show>
        <Show when={!clocks()?.tourniquetUp && clocks()?.reperfusionMinutes !== null}>
          <Clock label={app.w('clock.down')} reading={span(clocks()?.reperfusionMinutes ?? 0)} />
        </Show>
        <Show when={clocks()?.antibioticDueMinutes !== null && (clocks()?.antibioticDueMinutes ?? 99) < 30}>
          <Clock
            label={app.w((clocks()?.antibioticDueMinutes ?? 0) < 0 ? 'clock.antibiotic-over' : 'clock.antibiotic')}
            reading={span(Math.abs(clocks()?.antibioticDueMinutes ?? 0))}
          />
        </Show>
        <b class="figure bar-time">{inZone(app.tick(), opened()?.zone ?? 'UTC').time}</b>
      </span>
    </header>
  );
}
