import { For, Show, type JSX } from 'solid-js';
import { Touch } from './Touch.tsx';

export interface Option<T> {
  value: T;
  label: string;
  /** A second, smaller line. */
  note?: string;
  closed?: string | undefined;
  consequential?: boolean;
}

export interface ChoiceProps<T> {
  /** What is chosen; also seen, above the row. */
  label: string;
  hideLabel?: boolean | undefined;
  options: readonly Option<T>[];
  /** What is chosen now; null or left out while nothing is. Nothing is ever chosen beforehand. */
  value?: T | null;
  onChoose: (value: T) => void;
  /** `fill`: equal widths over the whole row. */
  spread?: 'fill' | 'words' | undefined;
}

export interface GroupProps extends Pick<ChoiceProps<never>, 'label' | 'hideLabel' | 'spread'> {
  children: JSX.Element;
}

/** Touches that belong together, under their name. */
export function Group(props: GroupProps) {
  return (
    <div class="choice" role="group" aria-label={props.label}>
      <Show when={!props.hideLabel}>
        <span class="choice-label" aria-hidden="true">
          {props.label}
        </span>
      </Show>
      <div class="choice-row" data-spread={props.spread ?? 'words'}>
        {props.children}
      </div>
    </div>
  );
}

/** A row of options, one touch each. */
export function Choice<T>(props: ChoiceProps<T>) {
  return (
    <Group label={props.label} hideLabel={props.hideLabel} spread={props.spread}>
      <For each={props.options}>
        {(option) => (
          <Touch
            onAct={() => props.onChoose(option.value)}
            pressed={props.value !== undefined && props.value !== null && props.value === option.value}
            closed={option.closed}
            consequential={option.consequential ?? false}
          >
            <span>{option.label}</span>
            <Show when={option.note}>
              <small>{option.note}</small>
            </Show>
          </Touch>
        )}
      </For>
    </Group>
  );
}
