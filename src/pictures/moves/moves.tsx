/** A drawing of each move: the tool, the screw, bone and plate as they are, and the way the hand goes. */
import type { JSX } from 'solid-js';
import { Show } from 'solid-js';
import type { MoveId } from '../../../content/ids.ts';
import { threaded } from '../screw-shape.ts';
import {
  axis,
  Burr,
  Chips,
  Chisel,
  Drill,
  Driver,
  Handle,
  Jaws,
  Mallet,
  Marrow,
  Plate,
  Screw,
  shank,
  surface,
  Taken,
  topOf,
  Turn,
  Wall,
  Way,
  type Scene,
} from './scene.tsx';

/** The near wall with the screw in it, plate on it where it is on. */
function Near(props: {
  scene: Scene;
  hatched?: number;
  cut?: number;
  slot?: boolean;
  cutPlate?: boolean;
  top?: number;
  /** How far it stands out of its place. */
  lift?: number;
}) {
  const hole = (): { hatched?: number; cut?: number } => ({
    ...(props.hatched !== undefined && { hatched: props.hatched }),
    ...(props.cut !== undefined && { cut: props.cut }),
  });
  return (
    <>
      <Marrow top={surface + 11} bottom={60} />
      <Wall top={surface} bottom={surface + 11} hole={shank * 0.7} {...hole()} />
      <Show when={props.scene.plate}>
        <Plate cut={props.cutPlate ?? false} />
      </Show>
      <Screw
        scene={props.scene}
        slot={props.slot ?? false}
        lift={props.lift ?? 0}
        {...(props.top !== undefined && { top: props.top })}
      />
    </>
  );
}

/** Both walls, with a piece of the screw in the far one. `beyond` draws its tip past the bone. */
function Deep(props: { near?: number; nearHatched?: number; far?: number; shift?: number; tip?: number }) {
  return (
    <>
      <Marrow top={16} bottom={30} />
      <Wall top={10} bottom={16} hole={props.near ?? shank * 0.9} hatched={props.nearHatched ?? 0} />
      <Wall top={30} bottom={37} hole={shank * 0.7} hatched={props.far ?? 0} />
      <path
        class="metal"
        d={threaded(axis, shank, 25 + (props.shift ?? 0), (props.tip ?? 39) + (props.shift ?? 0), 2.6, true)}
      />
    </>
  );
}

const withHead = (scene: Scene): Scene => ({ ...scene, headed: true });
const without = (scene: Scene): Scene => ({ ...scene, headed: false });

/** A cone or a tap that cuts its own thread to the left into the head. */
function Cutter(props: { to: number; taper: boolean }) {
  const r = (t: number) => (props.taper ? 1.2 + 2.4 * t : 2.3);
  const lines = () => {
    const out: string[] = [];
    for (let i = 0; i < 4; i++) {
      const [t, y] = [i / 4, props.to - 2.4 * i];
      out.push(`M${axis - r(t) - 0.4} ${y - 1.6}L${axis + r(t) + 0.4} ${y}`);
    }
    return out.join('');
  };
  return (
    <>
      <rect class="tool" x={axis - 1.7} y="2" width="3.4" height={props.to - 11} />
      <path
        class="tool"
        d={`M${axis - r(0)} ${props.to + 1.5}L${axis + r(0)} ${props.to + 1.5}L${axis + r(1)} ${props.to - 10}L${axis - r(1)} ${props.to - 10}Z`}
      />
      <path class="tool-line" d={lines()} />
    </>
  );
}

/** A tube over the shank, cut open: two walls, teeth at its lower end. */
function Tube(props: { to: number; inner: number; outer: number; teeth?: boolean; threads?: boolean }) {
  const wall = (s: 1 | -1) => {
    const [a, b] = [axis + s * props.inner, axis + s * props.outer];
    return props.teeth
      ? `M${a} -4V${props.to - 2}L${(a + b) / 2} ${props.to + 1}L${b} ${props.to - 2}V-4Z`
      : `M${a} -4V${props.to}H${b}V-4Z`;
  };
  const threads = () =>
    [0, 1, 2, 3]
      .map(
        (i) =>
          `M${axis - props.inner - 1.4} ${props.to - 2 - 2.6 * i}h2.2M${axis + props.inner + 1.4} ${props.to - 3.3 - 2.6 * i}h-2.2`,
      )
      .join('');
  return (
    <>
      <path class="tool" d={wall(-1) + wall(1)} />
      <Show when={props.threads}>
        <path class="tool-line" d={threads()} />
      </Show>
    </>
  );
}

const draw: Record<MoveId | 'defer', (scene: Scene) => JSX.Element> = {
  'turn-out': (scene) => (
    <>
      <Near scene={withHead(scene)} />
      <Driver to={topOf(withHead(scene))} />
      <Turn y={9} />
    </>
  ),
  uncover: (scene) => (
    <>
      <path
        class="bone"
        d={`M3 ${surface + 1}C7 ${surface - 14} 16 ${surface - 15} 24 ${surface - 10}L31 ${surface + 1}Z`}
      />
      <Near scene={{ ...withHead(scene), plate: false }} />
      <path
        class="bone"
        d={`M3 ${surface + 1}C7 ${surface - 14} 14 ${surface - 14} 20 ${surface - 11}L21 ${surface + 1}Z`}
      />
      <Taken x={21} y={surface - 9} width={9} height={4} />
      <Chisel x={25} y={surface - 6} slant={58} />
      <Chips
        at={[
          [18, 10],
          [14, 7],
          [20, 5],
        ]}
      />
    </>
  ),
  'break-loose': (scene) => (
    <>
      <Near scene={withHead(scene)} />
      <Driver to={topOf(withHead(scene))} short />
      <Mallet y={7.5} />
      <g class="turn">
        <path d="M10 17C15 20.5 25 20.5 30 17" />
        <path class="turn-head" d="M33 15.2L28 14.2L29.6 20Z" />
        <path class="turn-head" d="M7 15.2L12 14.2L10.4 20Z" />
      </g>
    </>
  ),
  'lift-and-turn': (scene) => (
    <>
      <Near scene={withHead(scene)} />
      <Driver to={topOf(withHead(scene))} />
      <path class="tool" d={`M${axis + 4} ${surface - 1.2}L${axis + 5} ${surface - 3.6}L44 8L46 11Z`} />
      <Turn y={9} r={8} />
      <Way from={[5, 24]} to={[5, 12]} />
    </>
  ),
  'open-near-cortex': (scene) => (
    <>
      <Near scene={scene} />
      <Taken x={axis + shank} y={surface} width={8.4} height={11} />
      <Drill x={axis + 9.4} to={surface + 6} r={2.2} />
      <Way from={[7, 8]} to={[7, 20]} />
    </>
  ),
  'reseat-driver': (scene) => (
    <>
      <Near scene={{ ...withHead(scene), emptied: true }} />
      <Driver to={topOf(withHead(scene)) - 5} />
      <Way from={[8, 10]} to={[8, 21]} />
      <Turn y={7} r={8} />
    </>
  ),
  'pack-recess': (scene) => (
    <>
      <Near scene={{ ...withHead(scene), emptied: true }} />
      <Driver to={topOf(withHead(scene)) - 6} />
      <path
        class="foil"
        d={`M7 ${topOf(withHead(scene)) - 4}L12 ${topOf(withHead(scene)) - 6}L16 ${topOf(withHead(scene)) - 1}L20 ${topOf(withHead(scene)) + 2.6}L24 ${topOf(withHead(scene)) - 1}L28 ${topOf(withHead(scene)) - 6}L33 ${topOf(withHead(scene)) - 4}`}
      />
      <Turn y={7} r={8} />
    </>
  ),
  'drive-oversize': (scene) => (
    <>
      <Near scene={{ ...withHead(scene), emptied: true }} />
      <Driver to={topOf(withHead(scene)) - 1} thick short />
      <Mallet y={7.5} />
      <Way from={[6, 9]} to={[6, 20]} />
    </>
  ),
  'grip-head': (scene) => (
    <>
      <Near scene={withHead(scene)} lift={scene.plate ? 4 : 0} />
      <Jaws y={topOf(withHead(scene)) + (scene.plate ? -1.5 : 2.5)} hold={7} />
      <Turn y={8} />
    </>
  ),
  'conical-extractor': (scene) => (
    <>
      <Near scene={{ ...withHead(scene), emptied: true }} />
      <Cutter to={topOf(withHead(scene)) + 3} taper />
      <Handle y={1} />
      <Turn y={9.5} r={8} />
    </>
  ),
  'reverse-tap': (scene) => (
    <>
      <Near scene={{ ...withHead(scene), emptied: true }} />
      <Cutter to={topOf(withHead(scene)) + 4} taper={false} />
      <rect class="tool" x={axis - 3.4} y="-4" width="6.8" height="8" />
      <Turn y={9.5} r={8} />
    </>
  ),
  'free-plate': (scene) => (
    <>
      <Near scene={{ ...withHead(scene), plate: true }} cutPlate />
      <circle class="tool" cx={axis + 12.5} cy={surface - 9} r="8" />
      <circle class="tool-hole" cx={axis + 12.5} cy={surface - 9} r="1.8" />
      <Chips
        at={[
          [21, 17],
          [18, 13],
          [22, 10],
        ]}
      />
      <Way from={[7, 8]} to={[7, 20]} />
    </>
  ),
  'slot-head': (scene) => (
    <>
      <Near scene={withHead(scene)} slot />
      <rect class="tool" x={axis - 1.1} y={topOf(withHead(scene)) - 13} width="2.2" height="16" rx="1.1" />
      <rect class="tool" x={axis + 1} y={topOf(withHead(scene)) - 8} width="30" height="2.6" />
      <Chips
        at={[
          [12, 13],
          [9, 9],
          [14, 7],
        ]}
      />
    </>
  ),
  'drill-head-off': (scene) => (
    <>
      <Near scene={withHead(scene)} />
      <Taken x={axis - 4} y={topOf(withHead(scene))} width={8} height={6} />
      <Drill to={topOf(withHead(scene)) + 2.5} r={4} />
      <Way from={[7, 8]} to={[7, 19]} />
      <Chips
        at={[
          [28, 16],
          [31, 12],
          [27, 10],
        ]}
      />
    </>
  ),
  'grip-shank': (scene) => (
    <>
      <Near scene={{ ...without(scene), plate: false }} top={surface - 9} />
      <Jaws y={surface - 5} hold={shank} />
      <Turn y={6} r={8} />
    </>
  ),
  'gouge-and-grip': (scene) => (
    <>
      <Near scene={{ ...without(scene), plate: false }} top={surface - 1} hatched={9} cut={shank * 0.7} />
      <Chisel x={axis + 6} y={surface + 6} slant={24} />
      <Way from={[22, 4]} to={[17, 15]} />
      <Chips
        at={[
          [7, 20],
          [4, 17],
          [9, 23],
        ]}
      />
    </>
  ),
  'far-side': () => (
    <g transform="translate(0 -15)">
      <Deep tip={45} far={0} />
      <Jaws y={43} hold={shank} from="below" />
      <Way from={[33, 42]} to={[33, 55]} />
    </g>
  ),
  'push-through': () => (
    <>
      <Deep shift={2} />
      <rect class="tool" x={axis - 2.2} y="6" width="4.4" height="21" />
      <Mallet y={6} />
      <Way from={[29, 22]} to={[29, 43]} />
    </>
  ),
  'hollow-ream': (scene) =>
    scene.deep ? (
      <>
        <Deep near={8} far={7} />
        <Tube to={33} inner={4} outer={7} teeth />
        <Turn y={5} r={9.5} />
      </>
    ) : (
      <>
        <Near scene={{ ...without(scene), plate: false }} top={surface - 4} hatched={7.4} cut={shank * 0.7} />
        <Tube to={surface + 5} inner={4} outer={7} teeth />
        <Turn y={10} r={9.5} />
      </>
    ),
  'extraction-sleeve': (scene) =>
    scene.deep ? (
      <>
        <Deep near={8} />
        <Tube to={30} inner={2.4} outer={5.6} threads />
        <Turn y={5} r={9} />
        <Way from={[33.5, 28]} to={[33.5, 18]} />
      </>
    ) : (
      <>
        <Near scene={{ ...without(scene), plate: false }} top={surface - 5} cut={7.4} />
        <Tube to={surface + 3} inner={2.4} outer={5.6} threads />
        <Turn y={8} r={9} />
        <Way from={[33.5, 22]} to={[33.5, 11]} />
      </>
    ),
  window: () => (
    <>
      <Deep near={9} />
      <rect class="bone" transform="rotate(-24 9 4)" x="4" y="0" width="16" height="5.4" />
      <path class="bone-cut" d="M11 8V18M29 8V18" />
      <Chisel x={29} y={17} slant={16} />
    </>
  ),
  'burr-out': (scene) =>
    scene.deep ? (
      <>
        <Deep near={6} far={5.4} />
        <Burr x={axis} y={23.5} r={4.2} />
        <Chips
          at={[
            [11, 22],
            [28, 20],
            [31, 26],
            [9, 27],
          ]}
        />
      </>
    ) : (
      <>
        <Near scene={{ ...without(scene), plate: false }} top={surface - 1} hatched={6} cut={shank * 0.7} />
        <Burr x={axis} y={surface - 4.5} />
        <Chips
          at={[
            [10, 20],
            [29, 18],
            [31, 23],
            [8, 24],
          ]}
        />
      </>
    ),
  'leave-in': (scene) => (
    <>
      <Near scene={scene} />
      <path class="skin" d="M-20 12H60" />
      <path class="skin-stitch" d="M10 9v6M20 9v6M30 9v6" />
    </>
  ),
  defer: (scene) => (
    <>
      <Marrow top={surface + 11} bottom={60} />
      <Wall top={surface} bottom={surface + 11} />
      <path class="metal" d={threaded(9, shank, surface - 2, 48, 2.6, !scene.headed)} />
      <path class="metal" d={threaded(31, shank, surface - 2, 48, 2.6)} />
      <path class="metal" d="M24.5 20.5H37.5V24L34 26.5H28L24.5 24Z" />
      <g class="turn">
        <path d="M9 20C11 8 24 6 29 13" />
        <path class="turn-head" d="M31.5 18.5L25.4 14.2L32 11Z" />
      </g>
    </>
  ),
};

/**
 * The drawing of a move, for the screw as it stands.
 *
 * @param move any move but `other`, which has none; `defer` is to come back later
 * @returns null for a move that has no drawing
 */
export const drawMove = (move: string, scene: Scene): JSX.Element | null =>
  move in draw ? draw[move as keyof typeof draw](scene) : null;

/** The moves that have one. */
export const drawnMoves = Object.keys(draw);
