import { For, Show, children, type JSX } from 'solid-js';
import { TurnArrow } from './TurnArrow.tsx';
import { Mark } from './Marks.tsx';
import { Touch } from './Touch.tsx';

export interface CardFigure {
  /** What the figure is, such as "ring lost". */
  label: string;
  /** Before the move; left out when it does not change. */
  before?: string;
  after: string;
}

export interface CardNeed {
  label: string;
  have: boolean;
}

export interface MoveCardProps {
  /** Its number, which is also its key. */
  number: number | string;
  title: string;
  /** Drawn after the title when the turn is the point of it; the words are spoken. */
  turn?: string | undefined;
  /** What is drawn beside the words: the tool at work, or what happened. */
  drawing?: JSX.Element;
  /** A bar before the first figure that shows the same; the label of that figure is only spoken then. */
  gauge?: JSX.Element;
  figures?: readonly CardFigure[];
  needs?: readonly CardNeed[];
  /** What stands before it, such as a hold, in one line. */
  before?: string | undefined;
  closed?: string | undefined;
  consequential?: boolean;
  pressed?: boolean;
  /** Spoken names of the drawn signs: from one value "to" the next; a tool "here", or "not here". */
  words: { becomes: string; have: string; lacks: string };
  onAct: () => void;
}

/** Which way it turns: an arrow, or words alone where the drawing of the move shows it. */
const Turn = (props: { label: string; drawn: boolean }) => (
  <Show when={props.drawn} fallback={<TurnArrow label={props.label} />}>
    <span class="only-spoken">{props.label}</span>
  </Show>
);

/** Letters of a title beyond which it may be drawn smaller. */
const longTitle = 18;

/** One numbered option: all cards weigh the same. */
export function MoveCard(props: MoveCardProps) {
  // Each made once: to ask whether there is one would make another.
  const drawing = children(() => props.drawing);
  const gauge = children(() => props.gauge);
  return (
    <Touch
      size="card"
      class={drawing() ? 'card card-drawn' : 'card'}
      onAct={() => props.onAct()}
      closed={props.closed}
      consequential={props.consequential}
      pressed={props.pressed}
    >
      <b class="card-number figure">
        {props.number}
        {props.turn ? <Turn label={props.turn} drawn={Boolean(drawing())} /> : null}
      </b>
      {drawing()}
      <span class="card-title" data-long={props.title.length > longTitle ? '' : undefined}>
        {props.title}
      </span>
      {props.figures?.length ? (
        <span class="card-line" classList={{ 'card-cost': Boolean(gauge()) }}>
          {gauge()}
          <For each={props.figures}>
            {(figure) => (
              <span>
                <span classList={{ 'only-spoken': Boolean(gauge()) }}>{figure.label}</span>{' '}
                <b class="figure">
                  <Show when={figure.before}>
                    {figure.before} <Mark sign="becomes" label={props.words.becomes} />{' '}
                  </Show>
                  {figure.after}
                </b>
              </span>
            )}
          </For>
        </span>
      ) : null}
      {props.needs?.length ? (
        <span class="card-line">
          <For each={props.needs}>
            {(need) => (
              <span>
                {need.label}{' '}
                <Mark sign={need.have ? 'have' : 'lacks'} label={need.have ? props.words.have : props.words.lacks} />
              </span>
            )}
          </For>
        </span>
      ) : null}
      {props.before ? <span class="card-line card-before">{props.before}</span> : null}
    </Touch>
  );
}
