import { Show, createSignal, onMount, type Component } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import { Touch } from '../parts/Touch.tsx';
import { screenOf, useApp } from './app.ts';
import './later.css';

const rooms: (() => Promise<void>)[] = [];

/**
 * A part of the app that no resumed case needs at once, in a script of its own. Once fetched it is drawn at once, as
 * any other; until then, and when it cannot be had, words stand in its place.
 *
 * @param load asks for the script; asked again after it failed
 * @example const Record = later(() => import('./Record.tsx').then((script) => script.Record))
 */
export function later<Props extends object>(load: () => Promise<Component<Props>>): Component<Props> {
  const [part, setPart] = createSignal<Component<Props> | null>(null);
  const [missing, setMissing] = createSignal(false);
  let going: Promise<void> | undefined;
  const arrive = (found: Component<Props>) => void setPart(() => found);
  const fail = () => {
    going = undefined;
    setMissing(true);
  };
  const fetch = () => {
    setMissing(false);
    return (going ??= load().then(arrive, fail));
  };
  rooms.push(fetch);
  return (props) => {
    onMount(() => void fetch());
    return (
      <Show when={part()} fallback={<Waiting missing={missing()} again={() => void fetch()} />}>
        {(found) => <Dynamic component={found()} {...props} />}
      </Show>
    );
  };
}

/** Brings every part into memory, one after the other, so that none is asked of a network or a disk later on. */
export async function fetchRooms(): Promise<void> {
  for (const fetch of rooms) await fetch();
}

function Waiting(props: { missing: boolean; again: () => void }) {
  const { w, go, view } = useApp();
  return (
    <section class="later">
      <p role="status">{w(props.missing ? 'later.missing' : 'later.coming')}</p>
      <Show when={props.missing}>
        <div class="choice-row">
          <Touch onAct={() => props.again()}>{w('later.again')}</Touch>
          <Touch onAct={() => go(screenOf(view()))}>{w('later.back')}</Touch>
        </div>
      </Show>
    </section>
  );
}
