import { Show } from 'solid-js';
import { percent } from '../format/figures.ts';
import { CostGauge } from './CostGauge.tsx';

export interface GaugeProps {
  label: string;
  /** Word before the limits. */
  limit: string;
  /** Shares, 0–1; null when unknown: then no bar is drawn. */
  before: number | null;
  after: number | null;
  limits: { consider: number; stop: number };
}

/** The bar of a cost with its figure and its limits in words. */
export function Gauge(props: GaugeProps) {
  return (
    <div class="gauge" aria-hidden="true">
      <span>
        {props.label} <b class="figure">{percent(props.after)}</b>
      </span>
      <Show when={props.before !== null && props.after !== null}>
        <CostGauge before={props.before ?? 0} after={props.after ?? 0} limits={props.limits} />
      </Show>
      <span class="figure">
        {props.limit} {Math.round(props.limits.consider * 100)} · {percent(props.limits.stop)}
      </span>
    </div>
  );
}
