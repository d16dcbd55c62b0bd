import { For, Show, createMemo, createUniqueId } from 'solid-js';
import type { Stage } from '../../content/ids.ts';
import type { Bore } from '../../machines/entry.ts';
import { Hatch } from './Hatch.tsx';
import { TurnArrow } from '../parts/TurnArrow.tsx';
import { coreRadius, drawnPitch, head, threaded } from './screw-shape.ts';
import { sideGeometry } from './side-geometry.ts';

export interface ScrewSideProps {
  stage: Stage;
  /** mm, as all lengths here; `length` is null when it is not known. */
  diameter: number;
  length: number | null;
  cortices: 1 | 2;
  /** Measures of the bone; `assumed` draws its outline broken. */
  bone: { outer: number; cortex: number; assumed?: boolean };
  /** Thickness in which the plate is drawn while it is on; nobody measured it, so its outline is broken. */
  plate?: number | undefined;
  nearSurface?: number | undefined;
  /** Length already out. */
  out: number;
  pieceLength?: number | undefined;
  /** Holes made so far besides the screw's own. */
  made?: readonly Bore[];
  /** Holes that the selected move would make. */
  would?: readonly Bore[] | undefined;
  /** Spoken words for the arrow; left out, none is drawn. */
  turn?: string | undefined;
  /** Lengths in words, each beside the sign of what it means. */
  notes: { out?: string | undefined; in?: string | undefined; would?: string | undefined };
  /** The drawing in words. */
  label: string;
}

/** The screw from the side in its bone, to scale: what is in, what is out and where it was, what the move would bore. */
export function ScrewSide(props: ScrewSideProps) {
  const id = createUniqueId();
  // Its own fields alone: words beside the drawing may change and leave it as it is.
  const at = createMemo(() =>
    sideGeometry({
      stage: props.stage,
      diameter: props.diameter,
      length: props.length,
      cortices: props.cortices,
      outer: props.bone.outer,
      cortex: props.bone.cortex,
      plate: props.plate,
      nearSurface: props.nearSurface,
      out: props.out,
      pieceLength: props.pieceLength,
    }),
  );
  const pitch = () => drawnPitch(props.diameter);
  const core = () => coreRadius(props.diameter / 2);
  const upper = () => Math.min(at().top, -(props.plate ?? 0)) - 2.5;
  const lower = () => Math.max(props.bone.outer, at().tip) + 3;
  const half = () => (lower() - upper()) * 0.72;
  // By name, so that each keeps its drawing when something else is entered.
  const walls = ['near', 'far'] as const;
  const top = (wall: 'near' | 'far') => (wall === 'near' ? 0 : props.bone.outer - props.bone.cortex);
  const own = (wall: 'near' | 'far') => (wall === 'near' || props.cortices === 2 ? props.diameter : 0);
  const widest = (wall: 'near' | 'far', bores: readonly Bore[] | undefined) =>
    Math.max(
      0,
      ...(bores ?? []).filter((b) => b.wall === wall || b.wall === 'both').map((b) => b.length ?? b.diameter),
    );
  const before = (wall: 'near' | 'far') => Math.max(own(wall), widest(wall, props.made));
  const after = (wall: 'near' | 'far') => widest(wall, props.would);

  return (
    <figure class="side" role="img" aria-label={props.label}>
      <svg viewBox={`${-half()} ${upper()} ${2 * half()} ${lower() - upper()}`} aria-hidden="true">
        <defs>
          <Hatch id={id} size={props.bone.outer / 16} />
        </defs>
        <For each={walls}>
          {(wall) => (
            <>
              <rect class="bone" x={-half()} y={top(wall)} width={2 * half()} height={props.bone.cortex} />
              <Show when={after(wall) > before(wall)}>
                <rect class="empty" x={-after(wall) / 2} y={top(wall)} width={after(wall)} height={props.bone.cortex} />
                <rect
                  x={-after(wall) / 2}
                  y={top(wall)}
                  width={after(wall)}
                  height={props.bone.cortex}
                  fill={`url(#${id})`}
                />
              </Show>
              <Show when={before(wall) > 0}>
                <rect
                  class="empty"
                  x={-before(wall) / 2}
                  y={top(wall)}
                  width={before(wall)}
                  height={props.bone.cortex}
                />
              </Show>
              <path
                class="bone-line"
                data-assumed={props.bone.assumed ? '' : undefined}
                d={`M${-half()} ${top(wall)}H${half()}M${-half()} ${top(wall) + props.bone.cortex}H${half()}`}
              />
              <Show when={after(wall) > before(wall)}>
                <path
                  class="would"
                  d={[-1, 1]
                    .map((s) => `M${(s * after(wall)) / 2} ${top(wall) - 1.6}V${top(wall) + props.bone.cortex + 1.6}`)
                    .join('')}
                />
              </Show>
            </>
          )}
        </For>
        <Show when={props.plate}>
          {(plate) => (
            <path
              class="plate"
              d={[-1, 1]
                .map(
                  (s) =>
                    `M${s * half()} ${-plate()}H${s * (at().headRadius + 0.3)}L${s * (core() + 0.8)} 0H${s * half()}Z`,
                )
                .join('')}
            />
          )}
        </Show>
        <Ghost at={at()} radius={props.diameter / 2} core={core()} pitch={pitch()} />
        <Show when={at().from !== null}>
          <Show when={at().headed}>
            <path
              class="metal"
              d={head(0, at().headRadius, at().top, at().headHeight, core(), props.stage === 'recess-stripped')}
            />
          </Show>
          <path
            class="metal"
            d={threaded(
              0,
              props.diameter / 2,
              at().headed ? at().top + at().headHeight : (at().from ?? 0),
              at().tip,
              pitch(),
              !at().headed,
            )}
          />
          <Show when={props.stage === 'left-in'}>
            <rect class="metal" x={-props.diameter * 1.4} y={lower() - 1.6} width={props.diameter * 2.8} height="1.2" />
          </Show>
        </Show>
      </svg>
      <ul class="side-notes" aria-hidden="true">
        <Show when={props.notes.out}>
          <li data-key="out">{props.notes.out}</li>
        </Show>
        <Show when={props.notes.in}>
          <li data-key="in">{props.notes.in}</li>
        </Show>
        <Show when={props.notes.would}>
          <li data-key="would">
            {props.notes.would} <Show when={props.turn}>{(turn) => <TurnArrow label={turn()} />}</Show>
          </li>
        </Show>
      </ul>
    </figure>
  );
}

/** A broken outline where metal was. */
function Ghost(props: { at: ReturnType<typeof sideGeometry>; radius: number; core: number; pitch: number }) {
  const end = () => (props.at.from === null ? props.at.tip : props.at.from);
  const shankTop = () => props.at.top + props.at.headHeight;
  return (
    <Show when={!props.at.headed}>
      <path class="ghost" d={head(0, props.at.headRadius, props.at.top, props.at.headHeight, props.core)} />
      <Show when={end() > shankTop() + 0.5}>
        <path
          class="ghost"
          d={`M${-props.radius} ${shankTop()}V${end()}M${props.radius} ${shankTop()}V${end()}${props.at.from === null ? `H${-props.radius}` : ''}`}
        />
      </Show>
    </Show>
  );
}
