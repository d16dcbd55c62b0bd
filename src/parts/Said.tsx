import { Show } from 'solid-js';
import { Touch } from './Touch.tsx';

export interface SaidProps {
  /** Time of day of the entry, 24 hours, to the second. */
  time: string;
  /** The entry in words. */
  text: string;
  /** A word beside the time, such as "late" or "one copy only". */
  mark?: string;
  takeBack: string;
  /** While it can be taken back; left out, its place stays empty. */
  onTakeBack?: (() => void) | undefined;
}

/** The last entry in words, and the way to take it back. */
export function Said(props: SaidProps) {
  return (
    <div class="said">
      <p class="said-text" aria-live="polite">
        <span class="figure">{props.time}</span>
        <Show when={props.mark}>
          <span class="said-mark">{props.mark}</span>
        </Show>{' '}
        {props.text}
      </p>
      <Show when={props.onTakeBack} fallback={<span class="said-place" />}>
        {(takeBack) => <Touch onAct={() => takeBack()()}>{props.takeBack}</Touch>}
      </Show>
    </div>
  );
}
