import { Show, createSignal } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';

export interface TwiceProps {
  label: string;
  /** A second, smaller line. */
  note?: string | undefined;
  /** What the second touch is asked about. */
  question: string;
  yes: string;
  closed?: string | undefined;
  onYes: () => void;
}

/** A confirmation. The first touch only asks; the way back then stands in its place. */
export function Twice(props: TwiceProps) {
  const { w } = useApp();
  const [asked, setAsked] = createSignal(false);
  createLayoutGuard(asked);
  return (
    <div class="twice" data-asked={asked() ? '' : undefined}>
      <Show
        when={asked() && props.closed === undefined}
        fallback={
          <Touch consequential onAct={() => setAsked(true)} closed={props.closed}>
            <span>{props.label}</span>
            <Show when={props.note}>
              <small>{props.note}</small>
            </Show>
          </Touch>
        }
      >
        <p class="twice-question" role="status">
          {props.question}
        </p>
        <Touch onAct={() => setAsked(false)}>{w('closing.not-yet')}</Touch>
        <Touch
          consequential
          onAct={() => {
            setAsked(false);
            props.onYes();
          }}
        >
          {props.yes}
        </Touch>
      </Show>
    </div>
  );
}
