/** The floor of a touch: a bare page with a small chart, one strict write, and a list of 30 rows. */
import { For, createSignal } from 'solid-js';
import { render } from 'solid-js/web';
import { assign, initialTransition, setup, transition } from 'xstate';

const chart = setup({ types: { context: {} as { count: number }, events: {} as { type: 'tap' } } }).createMachine({
  context: { count: 0 },
  initial: 'still',
  states: {
    still: { on: { tap: { target: 'moving', actions: assign({ count: ({ context }) => context.count + 1 }) } } },
    moving: { on: { tap: { target: 'still', actions: assign({ count: ({ context }) => context.count + 1 }) } } },
  },
});

const database = new Promise<IDBDatabase>((resolve, reject) => {
  const request = indexedDB.open('floor', 1);
  request.onupgradeneeded = () => request.result.createObjectStore('entries', { keyPath: 'n' });
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error ?? new Error('given up without a reason'));
});

async function add(row: object): Promise<void> {
  const tx = (await database).transaction('entries', 'readwrite', { durability: 'strict' });
  tx.objectStore('entries').add(row);
  await new Promise<void>((resolve, reject) => {
    tx.oncomplete = () => resolve();
    tx.onabort = () => reject(tx.error ?? new Error('given up without a reason'));
  });
}

const row = (n: number, state: string) => ({ n, text: `${n} ${state} ${new Date().toISOString()}` });

function Floor() {
  let [snapshot] = initialTransition(chart);
  const [rows, setRows] = createSignal(Array.from({ length: 30 }, (_, i) => row(i - 30, 'before')));
  const tap = async () => {
    const [next] = transition(chart, snapshot, { type: 'tap' });
    const entry = row(next.context.count, String(next.value));
    await add({ ...entry, session: performance.timeOrigin });
    snapshot = next;
    setRows((all) => [...all.slice(1), entry]);
  };
  return (
    <main>
      <button type="button" onPointerUp={() => void tap()}>
        Tap
      </button>
      <p class="table-said">{rows().at(-1)?.text}</p>
      <ol>
        <For each={rows()}>{(one) => <li>{one.text}</li>}</For>
      </ol>
    </main>
  );
}

render(() => <Floor />, document.getElementById('app') as HTMLElement);
