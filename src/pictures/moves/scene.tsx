/**
 * What the drawings of moves are put together from: one language for all of them. A drawing is 40 units wide and 44 high, the
 * screw in its middle but a little to the right, since the number of its card stands in the upper left corner;
 * bone ends nowhere at its sides. Seen from the side, the surgeon's hand comes from above.
 */
import { For, Show, type JSX } from 'solid-js';
import { head, threaded } from '../screw-shape.ts';

/** What a drawing is told of the screw and its surroundings. */
export interface Scene {
  /** The head is where it was. */
  headed: boolean;
  /** The recess holds no driver any more. */
  emptied: boolean;
  /** The plate lies on the bone, under the head. */
  plate: boolean;
  /** All that is left is a piece in the far wall. */
  deep?: boolean;
}

/** Middle of the screw, and the surface of the bone, in units of a drawing. */
export const axis = 20;
export const surface = 27;
/** Radius of the shank to the crests of its thread. */
export const shank = 3.2;
const wide = 90;

/** Bone between two depths, with holes in it; `hatched` is what the move takes. */
export function Wall(props: { top: number; bottom: number; hole?: number; hatched?: number; cut?: number }) {
  const hole = () => props.hole ?? 0;
  const cut = () => Math.max(hole(), props.cut ?? 0);
  const hatched = () => Math.max(cut(), props.hatched ?? 0);
  const h = () => props.bottom - props.top;
  return (
    <>
      <rect class="bone" x={axis - wide} y={props.top} width={wide - hatched()} height={h()} />
      <rect class="bone" x={axis + hatched()} y={props.top} width={wide - hatched()} height={h()} />
      <Show when={hatched() > cut()}>
        <For each={[-1, 1]}>
          {(side) => (
            <Taken
              x={side < 0 ? axis - hatched() : axis + cut()}
              y={props.top}
              width={hatched() - cut()}
              height={h()}
            />
          )}
        </For>
      </Show>
    </>
  );
}

/** Bone that the move takes: hatched. */
export function Taken(props: { x: number; y: number; width: number; height: number }) {
  const lines = () => {
    const step = 2.2;
    const out: string[] = [];
    // Slanted lines within the box, each cut off at its edges.
    for (let at = step - props.height; at < props.width; at += step) {
      const [x0, x1] = [Math.max(0, at), Math.min(props.width, at + props.height)];
      if (x1 > x0)
        out.push(
          `M${props.x + x0} ${props.y + props.height - (x0 - at)}L${props.x + x1} ${props.y + props.height - (x1 - at)}`,
        );
    }
    return out.join('');
  };
  return (
    <>
      <rect class="taken-ground" x={props.x} y={props.y} width={props.width} height={props.height} />
      <path class="taken" d={lines()} />
    </>
  );
}

/** The marrow between two depths. */
export const Marrow = (props: { top: number; bottom: number }) => (
  <rect class="marrow" x={axis - wide} y={props.top} width={2 * wide} height={props.bottom - props.top} />
);

/** The plate on the bone, with the hole that the head lies in; `gap` cuts it through beside the screw. */
export function Plate(props: { cut?: boolean }) {
  const y = surface - 5;
  return (
    <>
      <rect class="plate-side" x={axis - wide} y={y} width={wide - 6} height="5" />
      <rect class="plate-side" x={axis + 6} y={y} width={props.cut ? 5 : wide} height="5" />
      <Show when={props.cut}>
        <rect class="plate-side" x={axis + 14} y={y} width={wide} height="5" />
      </Show>
    </>
  );
}

/** A screw from its head or its broken end down to its tip. `lift` draws it so far out of its place. */
export function Screw(props: { scene: Scene; lift?: number; top?: number; tip?: number; slot?: boolean }) {
  const up = () => props.lift ?? 0;
  const y = () => (props.scene.plate ? surface - 6.5 : surface - 5.5) - up();
  const tip = () => (props.tip ?? 48) - up();
  return (
    <Show
      when={props.scene.headed}
      fallback={<path class="metal" d={threaded(axis, shank, props.top ?? surface - 1, tip(), 2.6, true)} />}
    >
      <path class="metal" d={threaded(axis, shank, y() + 5.5, tip(), 2.6)} />
      <path class="metal" d={head(axis, 7, y(), 6, shank, props.scene.emptied || props.slot)} />
    </Show>
  );
}

/** Upper face of the head, or of the shank where there is none. */
export const topOf = (scene: Scene): number =>
  scene.headed ? (scene.plate ? surface - 6.5 : surface - 5.5) : surface - 1;

/** A driver that stands on a point: a shaft and its blade; `thick` for one of the next size. */
export function Driver(props: { to: number; thick?: boolean; short?: boolean }) {
  const r = () => (props.thick ? 3.1 : 2.1);
  const top = () => (props.short ? 8 : -4);
  return (
    <>
      <rect class="tool" x={axis - r() * 0.72} y={props.to} width={r() * 1.44} height="3.4" />
      <rect class="tool" x={axis - r()} y={top()} width={2 * r()} height={props.to - top()} />
    </>
  );
}

/** The bar of a handle that is turned by hand, across the shaft. */
export const Handle = (props: { y: number }) => (
  <rect class="tool" x={axis - 9} y={props.y} width="18" height="4" rx="2" />
);

/** The head of a mallet above a tool, with the way it comes. */
export function Mallet(props: { y: number; x?: number }) {
  const x = () => props.x ?? axis;
  return (
    <>
      <rect class="tool" x={x() - 8} y={props.y - 6} width="16" height="6.5" rx="1" />
      <rect class="tool" x={x() + 7} y={props.y - 4.4} width="22" height="2.8" />
    </>
  );
}

/** Two jaws that hold what stands between them. */
export function Jaws(props: { y: number; hold: number; from?: 'above' | 'below' }) {
  const side = (s: 1 | -1) => {
    const [x, y, up] = [axis + s * props.hold, props.y, props.from === 'below' ? -1 : 1];
    const at = (dx: number, dy: number) => `${x + s * dx} ${y - up * dy}`;
    return `M${at(0, -3)}L${at(0, 3)}L${at(2.2, 7)}L${at(1, 30)}L${at(5, 30)}L${at(6.6, 6)}L${at(3.4, -3)}Z`;
  };
  return <path class="tool" d={side(-1) + side(1)} />;
}

/** A turn to the left, seen a little from above: in front from left to right. */
export function Turn(props: { y: number; r?: number }) {
  const r = () => props.r ?? 8;
  const x = () => axis + r() * 0.86;
  const y = () => props.y + 2;
  return (
    <g class="turn">
      <path d={`M${axis + r() * 0.7} ${props.y - 2.4}A${r()} 3.6 0 1 0 ${x() - 1} ${y()}`} />
      <path class="turn-head" d={`M${x() + 3} ${y() - 2.6}L${x() - 4} ${y() - 2}L${x() - 0.6} ${y() + 4.4}Z`} />
    </g>
  );
}

/** A straight arrow from one point to another. */
export function Way(props: { from: readonly [number, number]; to: readonly [number, number] }) {
  const path = () => {
    const [[x0, y0], [x1, y1]] = [props.from, props.to];
    const length = Math.hypot(x1 - x0, y1 - y0) || 1;
    const [ux, uy] = [(x1 - x0) / length, (y1 - y0) / length];
    const [bx, by] = [x1 - ux * 4.2, y1 - uy * 4.2];
    return {
      line: `M${x0} ${y0}L${bx} ${by}`,
      tip: `M${x1} ${y1}L${bx - uy * 3} ${by + ux * 3}L${bx + uy * 3} ${by - ux * 3}Z`,
    };
  };
  return (
    <g class="turn">
      <path d={path().line} />
      <path class="turn-head" d={path().tip} />
    </g>
  );
}

/** A ball that mills, on its shaft, from above or at a slant. */
export function Burr(props: { x: number; y: number; r?: number }) {
  const r = () => props.r ?? 4;
  return (
    <>
      <rect class="tool" x={props.x - 1.3} y={-6} width="2.6" height={props.y + 6} />
      <circle class="tool" cx={props.x} cy={props.y} r={r()} />
      <path
        class="tool-line"
        d={`M${props.x - r() * 0.6} ${props.y - r() * 0.6}L${props.x + r() * 0.2} ${props.y + r() * 0.9}M${props.x} ${props.y - r() * 0.9}L${props.x + r() * 0.8} ${props.y + r() * 0.4}`}
      />
    </>
  );
}

/** What flies off where something is milled. */
export const Chips = (props: { at: readonly (readonly [number, number])[] }) => (
  <For each={props.at}>{([x, y]) => <circle class="chip" cx={x} cy={y} r="0.9" />}</For>
);

/** A twist drill standing on a point. */
export function Drill(props: { x?: number; to: number; r: number; from?: number }) {
  const x = () => props.x ?? axis;
  const top = () => props.from ?? -4;
  const flutes = () => {
    const out: string[] = [];
    for (let y = Math.max(top(), 2); y + 4 <= props.to - 1; y += 5)
      out.push(`M${x() - props.r} ${y + 4}L${x() + props.r} ${y}`);
    return out.join('');
  };
  return (
    <>
      <path
        class="tool"
        d={`M${x() - props.r} ${top()}H${x() + props.r}V${props.to - props.r * 0.7}L${x()} ${props.to}L${x() - props.r} ${props.to - props.r * 0.7}Z`}
      />
      <path class="tool-line" d={flutes()} />
    </>
  );
}

/** A blade at a slant, its edge at a point. */
export function Chisel(props: { x: number; y: number; slant: number }) {
  return (
    <path
      class="tool"
      transform={`rotate(${props.slant} ${props.x} ${props.y})`}
      d={`M${props.x - 2.6} ${props.y - 34}H${props.x + 2.6}V${props.y - 5}L${props.x} ${props.y}L${props.x - 2.6} ${props.y - 5}Z`}
    />
  );
}

/** A drawing's own box: nothing of it is spoken, words stand beside it. */
export const Drawing = (props: { children: JSX.Element }) => (
  <svg class="move-picture" viewBox="-3 0 40 44" aria-hidden="true">
    {props.children}
  </svg>
);
