import { For, Match, Show, Switch } from 'solid-js';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { Forecast } from '../forecast/later.ts';
import { BriefSheet } from './later.ts';
import { Disagree } from './Disagree.tsx';
import { disagreements } from './disagree.ts';
import { planFacts } from './plan-facts.ts';
import type { StepProps } from './step.ts';

export type PlanPage = 'forecast' | 'brief' | 'disagree';

/** The touches of the last step that open what is of the whole plan: forecast, brief sheet, disagreements, a rehearsal. */
export function PlanWays(props: { onOpen: (page: PlanPage) => void; onRehearse: () => void }) {
  const app = useApp();
  const { w } = app;
  /** Why the plan cannot be rehearsed. While work is done, nothing stands before the table. */
  const closed = () => {
    if ((app.view()?.phase ?? 'briefing') !== 'briefing') return w('rehearsal.begun');
    if (!app.writer()) return w('rehearsal.other-window');
    return (app.open()?.folded.screws.size ?? 0) === 0 ? w('rehearsal.no-screws') : undefined;
  };
  return (
    <div class="plan-ways">
      <Touch onAct={() => props.onOpen('forecast')}>
        {w('plan.to-forecast-short')}
        <small>{w('plan.forecast-note')}</small>
      </Touch>
      <Touch onAct={() => props.onOpen('brief')}>
        {w('plan.brief.open')}
        <small>{w('plan.brief.open-note')}</small>
      </Touch>
      <Touch onAct={() => props.onOpen('disagree')}>
        {w('plan.disagree-short')}
        <small>{w('plan.disagree-note')}</small>
      </Touch>
      <Touch onAct={() => props.onRehearse()} closed={closed()}>
        {w('rehearsal.open')}
        <small>{w('rehearsal.open-note')}</small>
      </Touch>
    </div>
  );
}

export interface PlanSheetProps {
  page: PlanPage;
  put: StepProps['put'];
  ready: StepProps['ready'];
  onClose: () => void;
}

export function PlanSheet(props: PlanSheetProps) {
  const { w } = useApp();
  return (
    <Switch>
      <Match when={props.page === 'forecast'}>
        <Sheet title={w('plan.forecast')} close={w('plan.back')} onClose={() => props.onClose()}>
          <Forecast />
        </Sheet>
      </Match>
      <Match when={props.page === 'brief'}>
        <BriefSheet ready={props.ready} onClose={() => props.onClose()} />
      </Match>
      <Match when={props.page === 'disagree'}>
        <Disagree put={props.put} screw={null} onClose={() => props.onClose()} />
      </Match>
    </Switch>
  );
}

/** Published facts that apply to this plan, and where its record and films disagree. */
export function PlanWords() {
  const app = useApp();
  const { w } = app;
  const differ = () => {
    const open = app.open();
    return open ? disagreements(open, w) : [];
  };
  const facts = () => {
    const open = app.open();
    return open ? planFacts(open.folded, w) : [];
  };
  return (
    <>
      <Show when={differ().length > 0}>
        <section aria-label={w('plan.disagree')}>
          <h2>{w('plan.disagree')}</h2>
          <ul class="dead-ends">
            <For each={differ()}>{(line) => <li>{line}</li>}</For>
          </ul>
        </section>
      </Show>
      <section aria-label={w('plan.facts')}>
        <h2>{w('plan.facts')}</h2>
        <ul class="dead-ends">
          <For each={facts()}>{(line) => <li>{line}</li>}</For>
        </ul>
      </section>
    </>
  );
}
