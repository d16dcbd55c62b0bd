import { For, Show } from 'solid-js';
import { axisHours, endsIn, type Ends } from './spread-shape.ts';

export interface SpreadProps {
  ends: Ends;
  /** Minutes by which 10, 50 and 90 of 100 have ended. */
  marks: readonly [number, number, number];
  /** Minutes planned in theatre, drawn as a broken line. */
  planned: number | null;
  /** Minutes worked so far: what lies before is hatched. */
  worked: number | null;
  /** The whole picture in words. */
  label: string;
  /** Words under the axis, by hours. */
  hour: (hours: number) => string;
}

const width = 180;
const floor = 22;

/** How likely the operation ends when: a hill over the hours, the middle of it marked, the edges marked thinner. */
export function Spread(props: SpreadProps) {
  const hours = () => axisHours(Math.max(props.marks[2], props.planned ?? 0, props.worked ?? 0));
  const x = (minutes: number) => (Math.min(minutes / 60, hours()) / hours()) * width;
  const bars = () => endsIn(props.ends, 5, hours() * 60);
  const hill = () => {
    const top = Math.max(...bars(), 1e-9);
    const step = width / bars().length;
    const up = bars().map((share, i) => `L${i * step} ${floor - (share / top) * 19}H${(i + 1) * step}`);
    return `M0 ${floor}${up.join('')}L${width} ${floor}Z`;
  };
  const marks = () => Array.from({ length: hours() + 1 }, (_, hour) => hour);
  return (
    <svg class="spread" viewBox={`-4 0 ${width + 12} 31`} role="img" aria-label={props.label}>
      <path class="spread-hill" d={hill()} />
      <path class="spread-floor" d={`M0 ${floor}H${width}`} />
      <For each={marks()}>
        {(hour) => (
          <>
            <path class="spread-tick" d={`M${x(hour * 60)} ${floor}v2`} />
            <text class="spread-hour" x={x(hour * 60)} y="29.5">
              {props.hour(hour)}
            </text>
          </>
        )}
      </For>
      <path class="spread-edge" d={`M${x(props.marks[0])} 6V${floor}M${x(props.marks[2])} 6V${floor}`} />
      <path class="spread-middle" d={`M${x(props.marks[1])} 1V${floor}`} />
      <Show when={props.planned}>{(minutes) => <path class="spread-planned" d={`M${x(minutes())} 1V${floor}`} />}</Show>
      <Show when={props.worked}>
        {(minutes) => <path class="spread-worked" d={`M0 ${floor - 2}H${x(minutes())}`} />}
      </Show>
    </svg>
  );
}
