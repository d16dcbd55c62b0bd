import { Show, createSignal } from 'solid-js';
import { inZone, epoch } from '../../../machines/time.ts';
import { Clock } from '../../parts/Clock.tsx';
import { Stepper } from '../../parts/Stepper.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { effective } from '../../session/effective.ts';
import { useApp } from '../app.ts';
import type { StepProps } from './step.ts';

/** What the theatre clock says while this one says `now`: so many minutes and seconds more. Same offset, milliseconds. */
export const theatreTime = (now: number, minutes: number, seconds: number): string =>
  new Date(now + minutes * 60_000 + seconds * 1000).toISOString();

/** The clock on the wall beside this one. The note is written by this one and prints the difference. */
export function TheatreClock(props: { put: StepProps['put'] }) {
  const app = useApp();
  const { w } = app;
  const [minutes, setMinutes] = createSignal(0);
  const [seconds, setSeconds] = createSignal(0);
  const zone = () => app.open()?.folded.case.context.room.opened?.zone ?? 'UTC';
  const reading = (ms: number) => inZone(ms, zone()).time;
  const last = () => {
    const open = app.open();
    const entry = open && effective(open).findLast(({ type }) => type === 'clock-compared');
    return entry?.type === 'clock-compared' ? Math.round((epoch(entry.theatreClock) - epoch(entry.at)) / 1000) : null;
  };
  const compare = () =>
    void props.put({
      type: 'clock-compared',
      theatreClock: theatreTime(app.tick(), minutes(), seconds()),
      source: 'wall',
    });
  const words = { less: w('briefing.less'), more: w('briefing.more') };
  return (
    <>
      <Show when={last() !== null}>
        <p>{w('briefing.clock-done', { seconds: last() ?? 0 })}</p>
      </Show>
      <div class="clock-row">
        <Clock label={w('briefing.this-clock')} reading={reading(app.tick())} />
        <Clock label={w('briefing.wall-clock')} reading={reading(app.tick() + minutes() * 60_000 + seconds() * 1000)} />
      </div>
      <div class="clock-row">
        <Stepper
          label={w('briefing.wall-minutes')}
          unit={w('briefing.min')}
          value={minutes()}
          step={1}
          min={-90}
          max={90}
          words={words}
          onChange={setMinutes}
        />
        <Stepper
          label={w('briefing.wall-seconds')}
          unit={w('briefing.seconds')}
          value={seconds()}
          step={5}
          min={-55}
          max={55}
          words={words}
          onChange={setSeconds}
        />
      </div>
      <Touch onAct={compare}>
        {minutes() === 0 && seconds() === 0 ? w('briefing.clock-same') : w('briefing.clock-shows')}
      </Touch>
    </>
  );
}
