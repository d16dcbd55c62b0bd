import { For, Show, createMemo } from 'solid-js';
import type { Stage } from '../../content/ids.ts';
import type { Bore } from '../../machines/entry.ts';
import { coreRadius, drawnPitch, head, threaded } from './screw-shape.ts';
import { sideGeometry } from './side-geometry.ts';

export interface StillInProps {
  /** The stage it was in when it was left. */
  stage: Stage;
  /** mm, as all lengths here; null when not known. */
  diameter: number;
  length: number | null;
  cortices: 1 | 2;
  bone: { outer: number; cortex: number; assumed: boolean };
  nearSurface?: number | undefined;
  /** Length of what came out. */
  out: number;
  /** Length of the piece that stayed, when it is known. */
  piece?: number | undefined;
  /** Holes made beside the screw's own. */
  made?: readonly Bore[];
  /** The drawing in words. */
  label: string;
  /** What the drawing rests on, in words, each line beside it. */
  notes: readonly string[];
  /** The length of the bar that gives the scale, in words: "10 mm". */
  bar: string;
}

const barLength = 10;

/**
 * The bone from the side with the piece that stayed, to scale: filled = still in, broken outline = came out, a gap in
 * a wall = a hole. On paper it is drawn at twice its size. Where the piece lies follows from lengths alone.
 */
export function StillIn(props: StillInProps) {
  const at = createMemo(() =>
    sideGeometry({
      stage: props.stage,
      diameter: props.diameter,
      length: props.length,
      cortices: props.cortices,
      outer: props.bone.outer,
      cortex: props.bone.cortex,
      nearSurface: props.nearSurface,
      out: props.out,
      pieceLength: props.piece,
    }),
  );
  const radius = () => props.diameter / 2;
  const core = () => coreRadius(props.diameter / 2);
  const pitch = () => drawnPitch(props.diameter);
  const top = () => Math.min(at().top, 0) - 1.5;
  const bottom = () => Math.max(props.bone.outer, at().tip) + 5;
  const half = () => Math.max(14, props.bone.outer * 0.8);
  const hole = (wall: 'near' | 'far') =>
    Math.max(
      wall === 'near' || props.cortices === 2 ? props.diameter : 0,
      ...(props.made ?? [])
        .filter((bore) => bore.wall === wall || bore.wall === 'both')
        .map((bore) => bore.length ?? bore.diameter),
    ) / 2;
  const walls = () => [
    { y: 0, gap: hole('near') },
    { y: props.bone.outer - props.bone.cortex, gap: hole('far') },
  ];
  const shankTop = () => at().top + at().headHeight;
  return (
    <figure class="still-in">
      <svg
        class="still-in-drawing"
        role="img"
        aria-label={props.label}
        viewBox={`${-half()} ${top()} ${2 * half()} ${bottom() - top()}`}
        style={{ '--high': `${bottom() - top()}`, '--wide': `${2 * half()}` }}
      >
        <For each={walls()}>
          {({ y, gap }) => (
            <For each={[-1, 1]}>
              {(side) => (
                <>
                  <rect
                    class="bone"
                    x={side < 0 ? -half() : gap}
                    y={y}
                    width={Math.max(0, half() - gap)}
                    height={props.bone.cortex}
                  />
                  <path
                    class="bone-line"
                    data-assumed={props.bone.assumed ? '' : undefined}
                    d={`M${side * half()} ${y}H${side * gap}V${y + props.bone.cortex}H${side * half()}`}
                  />
                </>
              )}
            </For>
          )}
        </For>
        <Show when={!at().headed}>
          <path class="ghost" d={head(0, at().headRadius, at().top, at().headHeight, core())} />
          <Show when={(at().from ?? 0) > shankTop() + 0.5}>
            <path class="ghost" d={`M${-radius()} ${shankTop()}V${at().from}M${radius()} ${shankTop()}V${at().from}`} />
          </Show>
        </Show>
        <Show when={at().from !== null}>
          <Show when={at().headed}>
            <path
              class="metal"
              d={head(0, at().headRadius, at().top, at().headHeight, core(), props.stage === 'recess-stripped')}
            />
          </Show>
          <path
            class="metal"
            d={threaded(0, radius(), at().headed ? shankTop() : (at().from ?? 0), at().tip, pitch(), !at().headed)}
          />
        </Show>
        <path class="still-in-bar" d={`M${-half() + 1} ${bottom() - 2.4}v1.2h${barLength}v-1.2`} />
      </svg>
      <figcaption class="still-in-notes">
        <ul>
          <For each={props.notes}>{(note) => <li>{note}</li>}</For>
          <li>{props.bar}</li>
        </ul>
      </figcaption>
    </figure>
  );
}
