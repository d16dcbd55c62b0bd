import { Show } from 'solid-js';
import { percent } from '../format/figures.ts';

export interface GaugeProps {
  label: string;
  /** Word before the limits. */
  limit: string;
  /** Shares, 0–1; null when unknown. */
  before: number | null;
  after: number | null;
  limits: { consider: number; stop: number };
}

/** A ruler of the share of bone lost: a bar for what is gone, hatched on to what would go, two tall marks for the limits. */
export function Gauge(props: GaugeProps) {
  const top = () => Math.max(0.4, props.limits.stop * 1.25, (props.after ?? 0) * 1.1);
  const at = (share: number) => (Math.min(share, top()) / top()) * 200;
  return (
    <div class="gauge" aria-hidden="true">
      <span>
        {props.label} <b class="figure">{percent(props.after)}</b>
      </span>
      <svg viewBox="0 0 200 22" preserveAspectRatio="none">
        <path class="gauge-base" d="M0 17H200" />
        <Show when={props.before !== null}>
          <rect class="gauge-gone" x="0" y="8" width={at(props.before ?? 0)} height="9" />
        </Show>
        <Show when={(props.after ?? 0) > (props.before ?? 0)}>
          <rect
            class="gauge-would"
            x={at(props.before ?? 0)}
            y="8"
            width={at(props.after ?? 0) - at(props.before ?? 0)}
            height="9"
          />
        </Show>
        <path class="gauge-limit" d={`M${at(props.limits.consider)} 1V22M${at(props.limits.stop)} 1V22`} />
      </svg>
      <span class="figure">
        {props.limit} {Math.round(props.limits.consider * 100)} · {percent(props.limits.stop)}
      </span>
    </div>
  );
}
