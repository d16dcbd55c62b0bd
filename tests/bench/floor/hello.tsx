/** The floor of size: the four libraries behind the app, each doing one small thing. */
import { get, set } from 'idb-keyval';
import { For, Show, createSignal } from 'solid-js';
import { render } from 'solid-js/web';
import * as v from 'valibot';
import { assign, initialTransition, setup, transition } from 'xstate';

const Entry = v.variant('type', [
  v.object({ type: v.literal('tap'), n: v.pipe(v.number(), v.integer()) }),
  v.object({ type: v.literal('text'), text: v.string() }),
]);

const chart = setup({ types: { context: {} as { count: number }, events: {} as { type: 'tap' } } }).createMachine({
  context: { count: 0 },
  on: { tap: { actions: assign({ count: ({ context }) => context.count + 1 }) } },
});

const [snapshot, setSnapshot] = createSignal(initialTransition(chart)[0]);
const tap = async () => {
  const [next] = transition(chart, snapshot(), { type: 'tap' });
  const entry = v.safeParse(Entry, { type: 'tap', n: next.context.count });
  await set('last', entry.output);
  setSnapshot(next);
};

render(
  () => (
    <Show when={snapshot().context.count} fallback={<button onClick={() => void tap()}>Tap</button>}>
      <For each={[...(snapshot().value as string)]}>{(letter) => <b>{letter}</b>}</For>
    </Show>
  ),
  document.body,
);
void get('last').then(console.log);
