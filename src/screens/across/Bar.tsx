import { For } from 'solid-js';

export interface BarPart {
  /** 0–1 of the whole bar. */
  share: number;
  /** Drawn hollow: the part that went wrong. */
  hollow?: boolean;
}

/** A bar on a scale from nothing to all; its parts stand one after the other. What it says stands beside it in words. */
export function Bar(props: { parts: readonly BarPart[]; label: string }) {
  const from = (at: number) => props.parts.slice(0, at).reduce((sum, { share }) => sum + share, 0) * 100;
  return (
    <svg class="across-bar" viewBox="0 0 100 10" preserveAspectRatio="none" role="img" aria-label={props.label}>
      <path class="across-bar-base" d="M0 9.5H100" />
      <For each={props.parts}>
        {(part, at) => (
          <rect
            class={part.hollow ? 'across-bar-part across-bar-hollow' : 'across-bar-part'}
            x={from(at())}
            y="1"
            width={Math.max(0, part.share * 100)}
            height="7"
          />
        )}
      </For>
    </svg>
  );
}
