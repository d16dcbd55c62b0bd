import { Show } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import './help.css';

/** The offer on the case list: one line, no question; gone for good with either touch. */
export function HelpOffer(props: { shown: boolean; onShow: () => void; onNotNow: () => void }) {
  const { w } = useApp();
  return (
    <Show when={props.shown}>
      <div class="help-offer">
        <p>
          {w('plan.help.offer')} <small>{w('plan.help.again')}</small>
        </p>
        <Touch onAct={() => props.onShow()}>{w('plan.help.show')}</Touch>
        <Touch onAct={() => props.onNotNow()}>{w('plan.help.not-now')}</Touch>
      </div>
    </Show>
  );
}
