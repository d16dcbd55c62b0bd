import { For, Show, createUniqueId } from 'solid-js';
import { Hatch } from './Hatch.tsx';

export interface CostGaugeProps {
  /** Shares of the cortex lost, 0–1: as it is, and as the move would leave it. */
  before: number;
  after: number;
  limits: { consider: number; stop: number };
}

/** What the whole bar stands for: beyond it the bar ends open. A choice of this project, no source. */
export const gaugeEnd = 0.4;
/** Length of the drawing for each hundredth of the cortex, and its height. */
const unit = 1;
const height = 7;
const low = 3;

const at = (share: number) => Math.min(share, gaugeEnd) * 100 * unit;

/**
 * Cortex lost as a bar: filled what is gone, hatched what the move takes, the limits as marks across. What lies past a
 * mark is drawn twice as high; what lies past the end leaves the bar open. Lengths are the figures, one unit a hundredth.
 */
export function CostGauge(props: CostGaugeProps) {
  const id = createUniqueId();
  const first = () => Math.min(props.limits.consider, gaugeEnd);
  /** A stretch of the bar, higher past the first mark. */
  const stretch = (from: number, to: number) => [
    { x: at(from), width: at(Math.min(to, first())) - at(from), tall: false },
    { x: at(Math.max(from, first())), width: at(to) - at(Math.max(from, first())), tall: true },
  ];
  const box = (part: { tall: boolean }) =>
    part.tall ? { y: 0.5, height: height - 1 } : { y: (height - low) / 2, height: low };
  return (
    <svg class="cost-gauge" viewBox={`0 0 ${gaugeEnd * 100} ${height}`} aria-hidden="true">
      <defs>
        <Hatch id={id} size={2.4} />
      </defs>
      <rect class="cost-track" x="0" y={(height - low) / 2} width={at(1)} height={low} />
      <For each={stretch(0, props.before)}>
        {(part) => (
          <Show when={part.width > 0}>
            <rect class="cost-gone" x={part.x} width={part.width} {...box(part)} />
          </Show>
        )}
      </For>
      <Show when={props.after > props.before}>
        <For each={stretch(props.before, props.after)}>
          {(part) => (
            <Show when={part.width > 0}>
              <g class="cost-would">
                <rect class="cost-would-ground" x={part.x} width={part.width} {...box(part)} />
                <rect x={part.x} width={part.width} {...box(part)} fill={`url(#${id})`} />
              </g>
            </Show>
          )}
        </For>
      </Show>
      <Show when={props.after > gaugeEnd}>
        <path class="cost-open" d={`M${at(1)} 0L${at(1) - 1.6} ${height / 2}L${at(1)} ${height}Z`} />
      </Show>
      <path class="cost-limit" d={`M${at(props.limits.consider)} 0V${height}M${at(props.limits.stop)} 0V${height}`} />
    </svg>
  );
}
