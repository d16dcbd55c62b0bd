import { For, Show } from 'solid-js';
import { axisHours, endsIn, labelPlaces, labelShare, type Ends } from './spread-shape.ts';

export interface SpreadProps {
  ends: Ends;
  /** Minutes by which 10, 50 and 90 of 100 have ended. */
  marks: readonly [number, number, number];
  /** The words of each mark: what it says, and its figure. */
  words: readonly { term: string; value: string }[];
  /** Minutes planned in theatre, drawn as a broken line. */
  planned: number | null;
  /** Minutes worked so far: what lies before is hatched. */
  worked: number | null;
  /** The whole picture in words. */
  label: string;
  /** Words under the axis, by hours. */
  hour: (hours: number) => string;
}

/** The drawing is as wide as its place: a hundred units. */
const width = 100;
const top = 7;
const floor = 40;

/** How likely the operation ends when: a hill over the hours, its three marks each under its own words. */
export function Spread(props: SpreadProps) {
  const hours = () => axisHours(Math.max(props.marks[2], props.planned ?? 0, props.worked ?? 0));
  const x = (minutes: number) => (Math.min(minutes / 60, hours()) / hours()) * width;
  const bars = () => endsIn(props.ends, 5, hours() * 60);
  /** Through the middles of the bars, the corners rounded half way from one to the next. */
  const hill = () => {
    const highest = Math.max(...bars(), 1e-9);
    const step = width / bars().length;
    const points = bars().map((share, i) => [(i + 0.5) * step, floor - (share / highest) * (floor - top - 3)] as const);
    const curve = points.map(([px, py], i) => {
      const [nx, ny] = points[i + 1] ?? [width, floor];
      return `Q${px} ${py} ${(px + nx) / 2} ${(py + ny) / 2}`;
    });
    return `M0 ${floor}${curve.join('')}L${width} ${floor}Z`;
  };
  /** Hours that are named beneath: each, or every other where there are many. */
  const marks = () => {
    const by = hours() > 6 ? 2 : 1;
    return Array.from({ length: Math.floor(hours() / by) + 1 }, (_, i) => i * by);
  };
  const places = () => {
    const [first, middle, last] = props.marks;
    return labelPlaces([x(first), x(middle), x(last)].map((at) => at / width));
  };
  const mark = (i: 0 | 1 | 2) => `M${(places()[i] ?? 0) * width} 0L${x(props.marks[i])} ${top}V${floor}`;
  return (
    <div class="spread">
      <dl class="spread-words">
        <For each={props.words}>
          {({ term, value }, i) => (
            <div
              data-middle={i() === 1 ? '' : undefined}
              style={{
                'inline-size': `${labelShare * 100}%`,
                'margin-inline-start': `${((places()[i()] ?? 0) - labelShare / 2) * 100}%`,
              }}
            >
              <dt>{term}</dt>
              <dd class="figure">{value}</dd>
            </div>
          )}
        </For>
      </dl>
      <svg viewBox={`0 0 ${width} ${floor + 2}`} preserveAspectRatio="none" role="img" aria-label={props.label}>
        <path class="spread-hill" d={hill()} />
        <path class="spread-floor" d={`M0 ${floor}H${width}`} />
        <For each={marks()}>{(hour) => <path class="spread-tick" d={`M${x(hour * 60)} ${floor}v2`} />}</For>
        <path class="spread-edge" d={`${mark(0)}${mark(2)}`} />
        <path class="spread-middle" d={mark(1)} />
        <Show when={props.planned}>
          {(minutes) => <path class="spread-planned" d={`M${x(minutes())} ${top}V${floor}`} />}
        </Show>
        <Show when={props.worked}>
          {(minutes) => <path class="spread-worked" d={`M0 ${floor - 2}H${x(minutes())}`} />}
        </Show>
      </svg>
      <div class="spread-hours" aria-hidden="true">
        <For each={marks()}>
          {(hour) => (
            <span data-last={hour === hours() ? '' : undefined} style={{ 'inset-inline-start': `${x(hour * 60)}%` }}>
              {props.hour(hour)}
            </span>
          )}
        </For>
      </div>
    </div>
  );
}
