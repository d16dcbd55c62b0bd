import { Show, createSignal, onMount, type Component } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import { deferred } from '../deferred.ts';
import { recordWords } from '../language.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';
import { screenOf, useApp } from './app.ts';
import './later.css';

/** The words of all of them; none is drawn before they are there, unless it brings its own. */
const words = deferred(() => import('../format/later-messages.ts'));
const allWords = () => Promise.all([words.load(), recordWords.load()]);

/** A part of the app in a script of its own. */
export type Later<Props extends object> = Component<Props> & {
  /** Brings it into memory before it is drawn. Rejects with what the fetch rejects with. */
  load: () => Promise<unknown>;
};

/**
 * A room or sheet that no resumed case needs at once, in a script of its own. Once fetched it is drawn at once, as
 * any other; until then, and when it cannot be had, words stand in its place. The way back out of those is the part's
 * own `onClose`, or else the screen that the case stands at.
 *
 * @param load asks for the script; asked again after it failed
 * @param bring asks for the words that it needs, when not those of all rooms
 * @example const Record = later(() => import('./Record.tsx').then((script) => script.Record))
 */
export function later<Props extends object>(
  load: () => Promise<Component<Props>>,
  bring: () => Promise<unknown> = allWords,
): Later<Props> {
  const [part, setPart] = createSignal<Component<Props> | null>(null);
  const [missing, setMissing] = createSignal(false);
  const script = deferred(async () => {
    const [found] = await Promise.all([load(), bring()]);
    setPart(() => found);
  });
  const fetch = () => {
    setMissing(false);
    // Told in the place of the part, with a touch that asks again.
    script.load().catch(() => setMissing(true));
  };
  const drawn: Component<Props> = (props) => {
    onMount(fetch);
    createLayoutGuard(part);
    const back = () => (props as { onClose?: () => void }).onClose;
    return (
      <Show when={part()} fallback={<Waiting missing={missing()} again={fetch} back={back()} />}>
        {(found) => <Dynamic component={found()} {...props} />}
      </Show>
    );
  };
  return Object.assign(drawn, { load: script.load });
}

function Waiting(props: { missing: boolean; again: () => void; back: (() => void) | undefined }) {
  const { w, go, view } = useApp();
  return (
    <section class="later">
      <p role="status">{w(props.missing ? 'later.missing' : 'later.coming')}</p>
      <Show when={props.missing}>
        <div class="choice-row">
          <Touch onAct={() => props.again()}>{w('later.again')}</Touch>
          <Touch onAct={() => (props.back ? props.back() : go(screenOf(view())))}>{w('later.back')}</Touch>
        </div>
      </Show>
    </section>
  );
}
