import { Show } from 'solid-js';
import type { Share } from '../../../machines/across/report.ts';
import { spoken } from './words.ts';
import type { Messages } from '../../format/messages.ts';

/** A counted share on a scale of 0 to 100 %: the interval as a heavy line, the share itself as a vertical mark. */
export function IntervalBar(props: { share: Share; w: Messages }) {
  const at = (share: number) => 2 + share * 96;
  return (
    <svg
      class="interval"
      viewBox="0 0 100 10"
      preserveAspectRatio="none"
      role="img"
      aria-label={spoken(props.w, props.share)}
    >
      <path class="interval-scale" d="M2 8.5H98M2 7v3M26 7.5v2M50 7v3M74 7.5v2M98 7v3" />
      <Show when={props.share.low !== null}>
        <path class="interval-range" d={`M${at(props.share.low ?? 0)} 4H${at(props.share.high ?? 1)}`} />
        <path class="interval-counted" d={`M${at(props.share.count / props.share.of)} 0.5V7`} />
      </Show>
    </svg>
  );
}
