export interface TurnArrowProps {
  /** Spoken words, such as "anticlockwise"; without them it is only drawn. */
  label?: string;
}

/** Three quarters of a turn to the left, seen from the surgeon's side, its head at the end of the way. */
export function TurnArrow(props: TurnArrowProps) {
  return (
    <svg
      class="turn-arrow"
      viewBox="0 0 24 24"
      role={props.label ? 'img' : undefined}
      aria-label={props.label}
      aria-hidden={props.label ? undefined : 'true'}
    >
      <path d="M18.6 15.6A8 8 0 1 0 5.9 15.6" fill="none" stroke="currentColor" stroke-width="3" />
      <path d="M10.4 20.8L1.6 19.2L8.6 11.9Z" fill="currentColor" />
    </svg>
  );
}
