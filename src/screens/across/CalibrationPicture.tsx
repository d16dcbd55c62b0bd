import { For, Show } from 'solid-js';
import type { Tenth } from '../../../machines/across/lessons.ts';

/** From 0 to 100 % on both axes, in the units of the picture; 0 stands below. */
const side = 100;
const at = (share: number) => share * side;
const up = (share: number) => side - share * side;

/** Radius of a dot by how many screws it stands for: so grows its area, up to a limit. */
const radius = (screws: number) => Math.min(3.6, 1.2 + 0.28 * Math.sqrt(screws));

export interface CalibrationPictureProps {
  tenths: readonly Tenth[];
  label: string;
  across: string;
  up: string;
}

/**
 * What was forecast against what came out: each tenth of the forecasts as a dot with its interval. On the broken line both
 * are the same; a dot is hollow where its interval does not reach that line.
 */
export function CalibrationPicture(props: CalibrationPictureProps) {
  const filled = () => props.tenths.filter(({ screws }) => screws > 0);
  const holds = ({ low, high, forecast }: Tenth) =>
    (low ?? 0) <= (forecast ?? 0) + 1e-9 && (forecast ?? 0) <= (high ?? 1) + 1e-9;
  return (
    <figure class="plot">
      <figcaption class="plot-up">{props.up}</figcaption>
      <svg viewBox="-4 -4 108 108" role="img" aria-label={props.label}>
        <path class="plot-frame" d={`M0 0V${side}H${side}`} />
        <path
          class="plot-grid"
          d="M25 100v-100M50 100v-100M75 100v-100M100 100v-100M0 75h100M0 50h100M0 25h100M0 0h100"
        />
        <path class="plot-same" d="M0 100L100 0" />
        <For each={filled()}>
          {(tenth) => (
            <>
              <path
                class="plot-interval"
                d={`M${at(tenth.forecast ?? 0)} ${up(tenth.low ?? 0)}V${up(tenth.high ?? 1)}m-1.6 0h3.2M${at(tenth.forecast ?? 0) - 1.6} ${up(tenth.low ?? 0)}h3.2`}
              />
              <circle
                class={holds(tenth) ? 'plot-dot' : 'plot-dot plot-off'}
                cx={at(tenth.forecast ?? 0)}
                cy={up(tenth.out / tenth.screws)}
                r={radius(tenth.screws)}
              />
            </>
          )}
        </For>
      </svg>
      <Scale ends={['0', '50', '100 %']} />
      <figcaption class="plot-across">{props.across}</figcaption>
    </figure>
  );
}

/** The figures under a picture, from its left end to its right. */
export function Scale(props: { ends: readonly string[] }) {
  return (
    <div class="plot-scale" aria-hidden="true">
      <For each={props.ends}>{(end) => <span class="figure">{end}</span>}</For>
    </div>
  );
}

export interface MinutesPictureProps {
  rows: readonly { p10: number; p50: number; p90: number; taken: number }[];
  label: string;
  across: string;
  up: string;
  /** Words for so many hours. */
  hour: (hours: number) => string;
}

/** Minutes as planned against minutes taken, a dot a case; hollow where the band of the plan did not hold them. */
export function MinutesPicture(props: MinutesPictureProps) {
  const hours = () => Math.max(1, Math.ceil(Math.max(0, ...props.rows.flatMap(({ p50, taken }) => [p50, taken])) / 60));
  const share = (minutes: number) => minutes / 60 / hours();
  return (
    <figure class="plot">
      <figcaption class="plot-up">{props.up}</figcaption>
      <svg viewBox="-4 -4 108 108" role="img" aria-label={props.label}>
        <path class="plot-frame" d={`M0 0V${side}H${side}`} />
        <path class="plot-same" d="M0 100L100 0" />
        <For each={props.rows}>
          {({ p10, p50, p90, taken }) => (
            <circle
              class={taken >= p10 && taken <= p90 ? 'plot-dot' : 'plot-dot plot-off'}
              cx={at(share(p50))}
              cy={up(share(taken))}
              r="1.4"
            />
          )}
        </For>
      </svg>
      <Scale ends={['0', props.hour(hours())]} />
      <figcaption class="plot-across">
        {props.across}
        <Show when={props.rows.length === 0}> –</Show>
      </figcaption>
    </figure>
  );
}
