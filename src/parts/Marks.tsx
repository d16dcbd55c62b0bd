/** Signs that the font lacks, drawn: they would otherwise come from whatever font a device happens to have. */
const path = {
  becomes: 'M2 12h17M13 5l7 7-7 7',
  have: 'M3 13l6 6L21 5',
  lacks: 'M4 20h16M4 14v6M20 14v6',
  previous: 'M15 3l-8 9 8 9',
  next: 'M9 3l8 9-8 9',
  'rub-out': 'M22 12H5M11 5l-7 7 7 7',
} as const;

export interface MarkProps {
  /** `becomes`: from one value to the next; `have`: it is in the room; `lacks`: an empty tray. */
  sign: keyof typeof path;
  /** Spoken word; without it the sign is only drawn. */
  label?: string;
}

/** A small drawn sign, as high as the letters beside it. */
export function Mark(props: MarkProps) {
  return (
    <svg
      class="mark"
      viewBox="0 0 24 24"
      role={props.label ? 'img' : undefined}
      aria-label={props.label}
      aria-hidden={props.label ? undefined : 'true'}
    >
      <path d={path[props.sign]} fill="none" stroke="currentColor" stroke-width="3" />
    </svg>
  );
}
