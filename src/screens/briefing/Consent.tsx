import { For, Show, createMemo } from 'solid-js';
import type { ConsentId } from '../../../content/ids.ts';
import { departmentSource } from '../../../content/overlay.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { consentOpen } from '../../../machines/consent.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { StepProps } from './step.ts';

/** The points of the consent for this removal, each ticked when the form was seen to have it. */
export function Consent(props: StepProps) {
  const app = useApp();
  const { w } = app;
  const consent = () => app.open()?.folded.case.context.consent ?? {};
  const open = createMemo(() => {
    const now = app.open();
    return now ? consentOpen(now.folded) : [];
  });
  const state = (point: ConsentId) => {
    if (consent()[point] === true) return w('briefing.consent-seen');
    return open().includes(point) ? w('briefing.consent-open') : w('briefing.consent-not-counted');
  };
  /** Those that count in this plan and were not seen: an entry each, taken back together. What does not count is not told. */
  const all = () =>
    void props.put(...open().map((point): EntryDraft => ({ type: 'consent-point', point, confirmed: true })));
  return (
    <div class="consent">
      <p class="small soft">{w('briefing.consent-lead')}</p>
      <Show when={open().length > 1}>
        <div class="choice-row">
          <Touch onAct={all}>
            {w('briefing.consent-all')}
            <small>{w('briefing.consent-all-open', { count: open().length })}</small>
          </Touch>
        </div>
      </Show>
      <div class="tool-cards">
        <For each={app.content().consent}>
          {({ id: point, source }) => (
            <Touch
              size="card"
              class="tool-card"
              pressed={consent()[point] === true}
              onAct={() => void props.put({ type: 'consent-point', point, confirmed: consent()[point] !== true })}
            >
              <span>{app.content().phrases.consent[point].label}</span>
              <small>{app.content().phrases.consent[point].help}</small>
              <Show when={source === departmentSource}>
                <small>{w('status.department')}</small>
              </Show>
              <small class="tool-asked">{state(point)}</small>
            </Touch>
          )}
        </For>
      </div>
      <p class="small soft">{w('briefing.consent-tail')}</p>
    </div>
  );
}
