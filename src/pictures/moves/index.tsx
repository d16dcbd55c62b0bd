import { drawMove } from './moves.tsx';
import { drawOutcome } from './outcomes.tsx';
import { Drawing, type Scene } from './scene.tsx';
import './moves.css';

export type { Scene } from './scene.tsx';

/** A move as a drawing, without words; an empty box for a move that has none. */
export const MovePicture = (props: { move: string; scene: Scene }) => (
  <Drawing>{drawMove(props.move, props.scene)}</Drawing>
);

/** An answer to "what happened?" as a drawing, without words. */
export const OutcomePicture = (props: { outcome: string; scene: Scene }) => (
  <Drawing>{drawOutcome(props.outcome, props.scene)}</Drawing>
);
