import { For, Show, createSignal, createUniqueId } from 'solid-js';
import { Mark } from './Marks.tsx';
import { Touch } from './Touch.tsx';

export interface PasscodeFormProps {
  /** What is to be typed, one after the other. */
  fields: readonly string[];
  words: { done: string; /** Spoken name of the key that takes the last character away. */ rubOut: string };
  /** Why it cannot be handed over as it stands, in words. */
  closed: (typed: readonly string[]) => string | undefined;
  /** Gets what was typed; the fields are empty again then. */
  onDone: (typed: readonly string[]) => void;
}

const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', 'rub-out', '0'] as const;

/** Secret words or digits: large digits to touch, any character by a keyboard. Never shown, kept only while here. */
export function PasscodeForm(props: PasscodeFormProps) {
  const id = createUniqueId();
  const [typed, setTyped] = createSignal<readonly string[]>([]);
  const [active, setActive] = createSignal(0);
  const valueOf = (i: number) => typed()[i] ?? '';
  const all = () => props.fields.map((_, i) => valueOf(i));
  const put = (i: number, value: string) => setTyped(all().map((old, at) => (at === i ? value : old)));
  const key = (name: (typeof keys)[number]) => {
    const now = valueOf(active());
    put(active(), name === 'rub-out' ? [...now].slice(0, -1).join('') : now + name);
  };
  const done = () => {
    const handed = all();
    if (props.closed(handed) !== undefined) return;
    setTyped([]);
    setActive(0);
    props.onDone(handed);
  };
  return (
    <div class="passcode">
      <div class="passcode-fields">
        <For each={props.fields}>
          {(label, i) => (
            <div class="passcode-field" data-active={active() === i() ? '' : undefined}>
              <label class="choice-label" for={`${id}-${i()}`}>
                {label}
              </label>
              <input
                id={`${id}-${i()}`}
                type="password"
                autocomplete="one-time-code"
                autocapitalize="none"
                spellcheck={false}
                value={valueOf(i())}
                onFocus={() => setActive(i())}
                onInput={(event) => put(i(), event.currentTarget.value)}
                onKeyDown={(event) => {
                  if (event.key === 'Enter' && !event.repeat) done();
                }}
              />
            </div>
          )}
        </For>
        <Touch onAct={done} closed={props.closed(all())}>
          {props.words.done}
        </Touch>
      </div>
      <div class="pad-keys">
        <For each={keys}>
          {(name) => (
            <Touch size="small" quick label={name === 'rub-out' ? props.words.rubOut : name} onAct={() => key(name)}>
              <Show when={name === 'rub-out'} fallback={name}>
                <Mark sign="rub-out" />
              </Show>
            </Touch>
          )}
        </For>
      </div>
    </div>
  );
}
