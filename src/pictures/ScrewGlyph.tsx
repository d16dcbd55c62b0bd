import { Match, Switch } from 'solid-js';
import type { Stage } from '../../content/ids.ts';
import { head, threaded } from './screw-shape.ts';

export interface ScrewGlyphProps {
  stage: Stage;
  /** Spoken words; without them it is only drawn, beside words that say the same. */
  label?: string;
}

const shank = threaded(12, 3.6, 8, 23, 3.2);
const shape = {
  whole: head(12, 9, 1, 7.5, 4),
  emptied: head(12, 9, 1, 7.5, 4, true),
  stump: threaded(12, 3.6, 10, 23, 3.2, true),
  lifted: head(12, 8.5, 0.5, 5.6, 4),
  piece: threaded(12, 3.6, 11.5, 23, 3.2, true),
  left: threaded(12, 3.6, 3.5, 17.5, 3.2),
};
/** A cut through one wall of the bone, with the hole in it. */
const wall = (y: number, height: number, gap: number) =>
  `M1 ${y}H${12 - gap}V${y + height}H1ZM${12 + gap} ${y}H23V${y + height}H${12 + gap}Z`;

/**
 * A screw in one of its six shapes: whole; its head hollowed out; its head lifted off; a piece alone in the far wall;
 * an empty hole; a piece with a line under it, left in. The shape is the code: there is no colour, letter or dot.
 */
export function ScrewGlyph(props: ScrewGlyphProps) {
  return (
    <svg
      class="screw-glyph"
      viewBox="0 0 24 24"
      data-stage={props.stage}
      role={props.label ? 'img' : undefined}
      aria-label={props.label}
      aria-hidden={props.label ? undefined : 'true'}
      fill="currentColor"
    >
      <Switch>
        <Match when={props.stage === 'seated'}>
          <path d={shape.whole} />
          <path d={shank} />
        </Match>
        <Match when={props.stage === 'recess-stripped'}>
          <path d={shape.emptied} />
          <path d={shank} />
        </Match>
        <Match when={props.stage === 'head-sheared'}>
          <path d={shape.lifted} transform="rotate(-16 12 4)" />
          <path d={shape.stump} />
        </Match>
        <Match when={props.stage === 'fragment-retained'}>
          <path d={wall(15, 5, 4.6)} />
          <path d={shape.piece} />
        </Match>
        <Match when={props.stage === 'out'}>
          <path d={wall(4, 5, 3.6)} />
          <path d={wall(15, 5, 3.6)} />
        </Match>
        <Match when={props.stage === 'left-in'}>
          <path d={shape.left} />
          <path d="M1 20.5H23V23.5H1Z" />
        </Match>
      </Switch>
    </svg>
  );
}
