import { Show } from 'solid-js';

export interface ClockProps {
  label: string;
  /** The reading with its units, such as `span(72)`, or a time of day; figures all have one width. */
  reading: string;
  /** What it is measured against, such as "of 120 min". */
  of?: string | undefined;
  /** How much of what it is measured against has gone, 0–1: drawn as a bar beneath. */
  share?: number | undefined;
}

/** One clock: what it counts, and how far it has got. It counts up in one voice and never changes its look. */
export function Clock(props: ClockProps) {
  return (
    <div class="clock" classList={{ 'clock-limited': props.share !== undefined }} role="timer" aria-label={props.label}>
      <span class="clock-label" aria-hidden="true">
        {props.label}
      </span>
      <b class="figure">{props.reading}</b>
      <Show when={props.share !== undefined}>
        <span class="clock-bar" aria-hidden="true">
          <span style={{ 'inline-size': `${Math.round(Math.min(1, props.share ?? 0) * 100)}%` }} />
        </span>
      </Show>
      <Show when={props.of}>
        <span class="clock-label">{props.of}</span>
      </Show>
    </div>
  );
}
