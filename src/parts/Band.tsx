import { Show, type JSX } from 'solid-js';

export interface BandProps {
  /** `hold` stands in reversed ink and asks for an answer; `notice` is ruled above and below and asks for none. */
  kind: 'hold' | 'notice';
  title: string;
  /** One plain sentence. */
  text?: string;
  /** The answers: touches, or choices. */
  children?: JSX.Element;
}

/** A band over the full width. It stands still; nothing in it flashes or sounds. */
export function Band(props: BandProps) {
  return (
    <section class={`band band-${props.kind}`} aria-label={props.title}>
      <div class="band-words" role="status">
        <b class="band-title">{props.title}</b>
        <Show when={props.text}>
          <span class="band-text">{props.text}</span>
        </Show>
      </div>
      <Show when={props.children}>
        <div class="band-answers">{props.children}</div>
      </Show>
    </section>
  );
}
