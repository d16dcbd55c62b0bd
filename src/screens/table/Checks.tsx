import { For, createSignal, type Accessor } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';

/** What may be said of a check; nobody has said anything of one that is not there. */
export type Said = 'yes' | 'no' | 'not-known';
export type Checked = Readonly<Record<string, Said>>;

const next: Readonly<Record<string, Said | undefined>> = { unsaid: 'yes', yes: 'no', no: 'not-known' };

/** Answers to checks as they are touched: each touch goes on to the next, and after the last nothing is said again. */
export function createChecks(): { said: Accessor<Checked>; touch: (id: string) => void; clear: () => void } {
  const [said, setSaid] = createSignal<Checked>({});
  const touch = (id: string) =>
    setSaid(({ [id]: now, ...others }) => {
      const then = next[now ?? 'unsaid'];
      return then === undefined ? others : { ...others, [id]: then };
    });
  return { said, touch, clear: () => setSaid({}) };
}

/** A touch for each check, with what was said of it so far. */
export function CheckTouches(props: { ids: readonly string[]; said: Checked; onTouch: (id: string) => void }) {
  const { w, content } = useApp();
  return (
    <div class="hold-checks" role="group" aria-label={w('hold.checks')}>
      <For each={props.ids}>
        {(id) => (
          <Touch size="card" pressed={props.said[id] !== undefined} onAct={() => props.onTouch(id)}>
            <span>{content().phrases.checks[id] ?? id}</span> <b>{w(`said.${props.said[id] ?? 'unsaid'}`)}</b>
          </Touch>
        )}
      </For>
    </div>
  );
}
