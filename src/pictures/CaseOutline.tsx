import { For, Show } from 'solid-js';
import type { Stage, constructs } from '../../content/ids.ts';

export interface OutlineProps {
  construct: (typeof constructs)[number];
  screws: readonly { id: string; stage: Stage }[];
}

/** Units of the drawing: one screw to the next, and how high it is. */
const step = 7;
const high = 12;

/**
 * A construct in small: filled = the screw is in, with a line under it where it stays on purpose, a broken ring = it came
 * out. Drawn beside words that say the same.
 */
export function CaseOutline(props: OutlineProps) {
  const wide = () => Math.max(3, props.screws.length) * step;
  const x = (index: number) => (index + 0.5) * step;
  return (
    <svg class="case-outline" viewBox={`0 0 ${wide()} ${high}`} aria-hidden="true">
      <Show when={props.construct !== 'screws'}>
        <rect
          class="plate"
          x="0.6"
          y={props.construct === 'nail' ? 4 : 1.6}
          width={wide() - 1.2}
          height={props.construct === 'nail' ? 3 : 7.8}
          rx={props.construct === 'nail' ? 1.5 : 3.6}
        />
      </Show>
      <For each={props.screws}>
        {({ stage }, index) => (
          <>
            <circle
              class={stage === 'out' ? 'outline-out' : 'outline-in'}
              data-stage={stage}
              cx={x(index())}
              cy="5.5"
              r="2.3"
            />
            <Show when={stage === 'left-in'}>
              <path class="outline-stays" d={`M${x(index()) - 2.6} 11.2h5.2`} />
            </Show>
          </>
        )}
      </For>
    </svg>
  );
}
