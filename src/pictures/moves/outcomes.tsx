/** A drawing of each answer to "what happened?", in the language of the moves. */
import type { JSX } from 'solid-js';
import { head, threaded } from '../screw-shape.ts';
import { axis, Driver, Marrow, Screw, shank, surface, topOf, Turn, Wall, Way, type Scene } from './scene.tsx';

const Bone = (props: { hole?: number }) => (
  <>
    <Marrow top={surface + 11} bottom={60} />
    <Wall top={surface} bottom={surface + 11} hole={props.hole ?? shank * 0.7} />
  </>
);

const bare = (scene: Scene): Scene => ({ ...scene, plate: false });

/** By the outcome; `near-piece` and `far-piece` are the two ways in which a shank breaks. */
const draw: Record<string, (scene: Scene) => JSX.Element> = {
  out: (scene) => (
    <>
      <Bone hole={shank} />
      <Screw scene={bare(scene)} lift={21} tip={44} top={surface - 12} />
      <Way from={[32, 20]} to={[32, 5]} />
    </>
  ),
  'out-jammed': (scene) => (
    <>
      <Bone hole={shank} />
      <Screw scene={bare(scene)} lift={16} tip={40} top={surface - 8} />
      <Driver to={topOf(bare(scene)) - 14} />
    </>
  ),
  moving: (scene) => (
    <>
      <Bone />
      <Screw scene={bare(scene)} lift={5} top={surface - 8} />
      <Turn y={10} r={8} />
      <Way from={[33, 24]} to={[33, 13]} />
    </>
  ),
  'turns-free': (scene) => (
    <>
      <Bone hole={shank + 1.2} />
      <Screw scene={bare(scene)} />
      <Turn y={9} r={8} />
      <Turn y={16} r={8} />
    </>
  ),
  'no-change': (scene) => (
    <>
      <Bone />
      <Screw scene={bare(scene)} />
      <path class="same" d="M12 9H28M12 15H28" />
    </>
  ),
  slipped: (scene) => (
    <>
      <Bone />
      <Screw scene={{ ...bare(scene), emptied: true }} />
      <g transform={`rotate(28 ${axis} ${topOf(bare(scene))}) translate(5 -3)`}>
        <Driver to={topOf(bare(scene))} />
      </g>
    </>
  ),
  'head-sheared': () => (
    <>
      <Bone />
      <path class="metal" d={threaded(axis, shank, surface - 1, 48, 2.6, true)} />
      <path class="metal" transform="rotate(-18 20 12)" d={head(axis, 7, 9, 6, shank)} />
    </>
  ),
  'near-piece': (scene) => (
    <>
      <Bone />
      <Screw scene={bare(scene)} tip={surface + 5} top={surface - 5} lift={scene.headed ? 4 : 0} />
      <path class="metal" d={threaded(axis, shank, surface + 8, 52, 2.6, true)} />
    </>
  ),
  'far-piece': () => (
    <>
      <Marrow top={12} bottom={30} />
      <Wall top={6} bottom={12} hole={shank} />
      <Wall top={30} bottom={38} hole={shank * 0.7} />
      <path class="metal" d={threaded(axis, shank, 26, 42, 2.6, true)} />
    </>
  ),
  'tool-broke': (scene) => (
    <>
      <Bone />
      <Screw scene={bare(scene)} />
      <path class="tool" d={`M18 ${topOf(bare(scene)) + 1}H22V15L20 17.4L18 14.6Z`} />
      <path class="tool" transform="rotate(14 20 8)" d="M18 -6H22V11L20.4 9L18 12.4Z" />
    </>
  ),
  'tool-jammed': (scene) => (
    <>
      <Bone />
      <Screw scene={bare(scene)} />
      <Driver to={topOf(bare(scene)) + 2} />
      <path class="same" d="M8 7L14 13M14 7L8 13" />
    </>
  ),
  'set-up-done': (scene) => (
    <>
      <Bone hole={7.4} />
      <Screw scene={{ ...bare(scene), headed: false }} top={surface - 4} />
    </>
  ),
};

/**
 * The drawing of an answer.
 *
 * @returns null for one that has none
 */
export const drawOutcome = (outcome: string, scene: Scene): JSX.Element | null => draw[outcome]?.(scene) ?? null;

export const drawnOutcomes = Object.keys(draw);
