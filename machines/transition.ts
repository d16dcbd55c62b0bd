/**
 * One event sent to one statechart: the machine's own pure transition, asked once.
 *
 * XState's `transition()` starts a throw-away actor at each call, with an initial state that nobody looks at, and
 * `can()` weighs every guard a second time. Both cost more than the transition itself, so a machine keeps one inert
 * scope here, and what it would do with the event answers whether it accepts it.
 */
import { createActor, type AnyStateMachine, type EventFromLogic, type InputFrom, type SnapshotFrom } from 'xstate';

type Scope = Parameters<AnyStateMachine['transition']>[2];

const scopes = new WeakMap<AnyStateMachine, { scope: Scope; acted: number }>();

/** What a machine acts in: an actor that is never started, and nothing that carries an effect out. */
function inert(machine: AnyStateMachine) {
  const self = createActor(machine);
  const nothing = () => {};
  const kept = {
    acted: 0,
    scope: {
      self,
      system: self.system,
      id: '',
      sessionId: '',
      logger: nothing,
      defer: nothing,
      emit: nothing,
      stopChild: nothing,
      actionExecutor: () => void kept.acted++,
    } as Scope,
  };
  return kept;
}

function scopeOf(machine: AnyStateMachine) {
  let kept = scopes.get(machine);
  if (!kept) scopes.set(machine, (kept = inert(machine)));
  return kept;
}

/**
 * The snapshot before any event, as `initialTransition` gives it.
 *
 * @example initialState(caseMachine, { content }).value // 'unopened'
 */
export const initialState = <M extends AnyStateMachine>(machine: M, input: InputFrom<M>): SnapshotFrom<M> =>
  machine.getInitialSnapshot(scopeOf(machine).scope, input) as SnapshotFrom<M>;

/**
 * The snapshot after an event; null when the present state does not accept it, as `snapshot.can(event)` says.
 *
 * An event is accepted when an enabled transition for it has a target or an action, even one that changes nothing.
 *
 * @returns never throws, as long as guards and actions do not
 * @example transition(caseMachine, initialState(caseMachine, { content }), workStarted) // null: no case was opened
 */
export function transition<M extends AnyStateMachine>(
  machine: M,
  snapshot: SnapshotFrom<M>,
  event: EventFromLogic<M>,
): SnapshotFrom<M> | null {
  const kept = scopeOf(machine);
  const before = kept.acted;
  const next = machine.transition(snapshot as never, event, kept.scope) as SnapshotFrom<M>;
  return next === snapshot && kept.acted === before ? null : next;
}
