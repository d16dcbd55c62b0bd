import { For, Show, createSignal } from 'solid-js';
import { Mark } from './Marks.tsx';
import { Touch } from './Touch.tsx';
import { figure, padKeys, typed, typedNumber } from '../format/figures.ts';

export interface NumberPadProps {
  label: string;
  unit: string;
  /** What stands on it at first; null for nothing. */
  value: number | null;
  /** Digits behind the point, 0 or 1. */
  decimals?: 0 | 1;
  min: number;
  max: number;
  /** Values that are often meant, one touch each. */
  offers?: readonly number[];
  words: {
    done: string;
    /** Spoken name of the key that takes the last digit away. */
    back: string;
    /** Also offered when given: the value is not known. */
    unknown?: string;
    /** Said beside the number while it lies outside `min` … `max`. */
    range: string;
  };
  onDone: (value: number | null) => void;
}

/** Large digits for a measured value. It hands over one number with `done`, or null for "not known". */
export function NumberPad(props: NumberPadProps) {
  // The pad starts from the value it was opened with and then belongs to the finger.
  // eslint-disable-next-line solid/reactivity
  const [text, setText] = createSignal(props.value === null ? '' : String(props.value));
  /** What stands there was not typed: the first digit takes its place, as on any pad. */
  const [given, setGiven] = createSignal(true);
  const press = (key: (typeof padKeys)[number]) => {
    setText(typed(given() && key !== 'back' ? '' : text(), key, decimals()));
    setGiven(false);
  };
  const offer = (value: number) => {
    setText(String(value));
    setGiven(true);
  };
  const decimals = () => props.decimals ?? 1;
  const number = () => typedNumber(text());
  const inRange = () => {
    const value = number();
    return value !== null && value >= props.min && value <= props.max;
  };
  const why = () => (inRange() ? undefined : props.words.range);

  return (
    <div class="pad" role="group" aria-label={props.label}>
      <div class="pad-head">
        <span class="choice-label" aria-hidden="true">
          {props.label}
        </span>
        <output class="pad-value" aria-live="polite">
          <b class="figure">{figure(text()) || '–'}</b> {props.unit}
        </output>
        <Show when={props.offers}>
          {(offers) => (
            <div class="pad-offers">
              <For each={offers()}>
                {(value) => (
                  <Touch size="small" quick onAct={() => offer(value)}>
                    {figure(value)}
                  </Touch>
                )}
              </For>
            </div>
          )}
        </Show>
        <div class="pad-end">
          <Show when={props.words.unknown}>
            {(unknown) => <Touch onAct={() => props.onDone(null)}>{unknown()}</Touch>}
          </Show>
          <Touch onAct={() => props.onDone(number())} closed={why()}>
            {props.words.done}
          </Touch>
        </div>
      </div>
      <div class="pad-keys">
        <For each={padKeys}>
          {(key) => (
            <Show when={key !== '.' || decimals() > 0} fallback={<span />}>
              <Touch
                size="small"
                quick
                label={key === 'back' ? props.words.back : figure(key)}
                onAct={() => press(key)}
              >
                {key === 'back' ? <Mark sign="rub-out" /> : figure(key)}
              </Touch>
            </Show>
          )}
        </For>
      </div>
    </div>
  );
}
