import { createMemo, createSignal, onCleanup, type JSX } from 'solid-js';
import { allowTap } from './tap-guard.ts';

/**
 * How long a touch keeps its pressed look once it acts, ms: the time a slow tablet takes to write, in which drawing the
 * touch anew would only keep the entry waiting. A choice of this project, no source.
 */
const afterglowMs = 160;

/** How long a touch shows that it was not taken, ms. A choice of this project, no source. */
const ignoredMs = 600;

export interface TouchProps {
  onAct: () => void;
  children: JSX.Element;
  /** `card` fills its place, `row` is as wide as its words, `small` is the least touch there is: 20 × 20 mm. */
  size?: 'card' | 'row' | 'small';
  /** Cannot be taken lightly: a doubled outline, and 13 mm to its neighbours in the direction of `apart`. */
  consequential?: boolean;
  apart?: 'inline' | 'block';
  /** A choice that is on or off. */
  pressed?: boolean;
  /** It is the one thing now, such as the called screw. */
  current?: boolean;
  /** Why it does nothing just now, in words, none where it speaks for itself; it stays in its place and readable. */
  closed?: string | undefined;
  /** Spoken name, where the children are a drawing. */
  label?: string;
  /** Typed fast, such as digits: only a second tap on this very touch is a bounce. */
  quick?: boolean;
  class?: string;
}

/** The time of an event on the clock of `performance.now()`, also where an engine stamps events by another one. */
function timeOf(event: Event): number {
  const now = performance.now();
  return event.timeStamp > 0 && event.timeStamp <= now && now - event.timeStamp < 60_000 ? event.timeStamp : now;
}

/**
 * The only button there is. It acts when the finger is lifted inside it; sliding off takes the tap back. Bounces and
 * taps aimed at an earlier layout do nothing. Enter, Space and screen readers act as a tap does.
 */
export function Touch(props: TouchProps) {
  const [held, setHeld] = createSignal(false);
  const [ignored, setIgnored] = createSignal(false);
  // Read once here: a condition written in markup would otherwise be created again, without an owner, at every touch.
  const closed = createMemo(() => props.closed);
  let button!: HTMLButtonElement;
  let gesture: { id: number; down: number } | null = null;
  let byPointer = false;
  let glow: ReturnType<typeof setTimeout> | undefined;
  let fade: ReturnType<typeof setTimeout> | undefined;
  onCleanup(() => {
    clearTimeout(glow);
    clearTimeout(fade);
  });
  /** Too soon, or aimed at what stood there before: it made nothing, and says so. */
  const show = () => {
    setIgnored(true);
    clearTimeout(fade);
    fade = setTimeout(() => setIgnored(false), ignoredMs);
  };

  const inside = (event: PointerEvent) => {
    const box = button.getBoundingClientRect();
    return (
      event.clientX >= box.left && event.clientX <= box.right && event.clientY >= box.top && event.clientY <= box.bottom
    );
  };
  const act = (now: number, down: number) => {
    if (closed() !== undefined) return;
    if (allowTap(now, props.quick ? { down, on: button } : { down })) props.onAct();
    else show();
  };
  const start = (event: PointerEvent) => {
    if (!event.isPrimary || event.button !== 0) return;
    byPointer = true;
    gesture = { id: event.pointerId, down: timeOf(event) };
    button.setPointerCapture?.(event.pointerId);
    clearTimeout(glow);
    setHeld(closed() === undefined);
  };
  const move = (event: PointerEvent) => {
    if (gesture?.id === event.pointerId) setHeld(closed() === undefined && inside(event));
  };
  const end = (event: PointerEvent) => {
    if (gesture?.id !== event.pointerId) return;
    const { down } = gesture;
    // Measured before the look changes: the other way round the browser works the page out twice.
    const hit = inside(event);
    gesture = null;
    if (hit) glow = setTimeout(() => setHeld(false), afterglowMs);
    else setHeld(false);
    if (hit) act(timeOf(event), down);
  };
  const stop = () => {
    if (gesture === null) return;
    gesture = null;
    setHeld(false);
  };
  // A click that follows a gesture was settled when the pointer was lifted; any other comes from keys or assistive tools.
  const click = (event: MouseEvent) => {
    const settled = byPointer && event.detail !== 0;
    byPointer = false;
    if (!settled) act(timeOf(event), timeOf(event));
  };

  return (
    <button
      ref={button}
      type="button"
      class={`touch touch-${props.size ?? 'row'} ${props.class ?? ''}`}
      classList={{ 'touch-consequential': props.consequential === true, held: held(), ignored: ignored() }}
      data-apart={props.consequential ? (props.apart ?? 'inline') : undefined}
      aria-label={props.label && closed() ? `${props.label}: ${closed()}` : props.label}
      aria-pressed={props.pressed}
      aria-current={props.current ? 'true' : undefined}
      aria-disabled={closed() !== undefined ? 'true' : undefined}
      onPointerDown={start}
      onPointerMove={move}
      onPointerUp={end}
      onPointerCancel={stop}
      onLostPointerCapture={stop}
      // A tap leaves no focus behind: a focused touch that its own act takes away makes the browser lay out the page twice.
      onMouseDown={(event) => event.preventDefault()}
      onClick={click}
      onKeyDown={(event) => {
        if (event.repeat && (event.key === 'Enter' || event.key === ' ')) event.preventDefault();
      }}
      onContextMenu={(event) => event.preventDefault()}
    >
      {props.children}
      {closed() ? <span class="touch-why">{closed()}</span> : null}
    </button>
  );
}
