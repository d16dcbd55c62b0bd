import { Show, createSignal } from 'solid-js';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { downloadCase } from '../../session/case-file.ts';
import type { CaseLine } from '../../session/session.ts';
import { useApp } from '../app.ts';
import { CaseContent } from '../department/CaseContent.tsx';

export interface CaseSheetProps {
  line: CaseLine;
  onClose: () => void;
  onOpen: (caseId: string) => void;
}

/** One case: its file out of the device, and its wiping, which asks twice and offers the file first. */
export function CaseSheet(props: CaseSheetProps) {
  const app = useApp();
  const { w } = app;
  const [asking, setAsking] = createSignal(false);
  const [saved, setSaved] = createSignal(false);
  createLayoutGuard(asking);
  const follows = () => (app.writer() ? undefined : w('cases.follows'));
  const count = () => props.line.entries;
  const save = () => {
    const stored = app.session.stored(props.line.meta.caseId);
    if (!stored) return;
    downloadCase(stored, stored.entries);
    setSaved(true);
  };
  const wipe = async () => {
    const { caseId } = props.line.meta;
    if (app.open()?.meta.caseId === caseId) app.session.leave();
    await app.session.remove(caseId);
    props.onClose();
  };
  return (
    <Sheet page title={props.line.label || w('cases.no-label')} close={w('cases.back')} onClose={() => props.onClose()}>
      <div class="case-sheet">
        <p>{w('cases.holds-entries', { count: count() })}</p>
        <div class="choice-row">
          <Touch onAct={() => props.onOpen(props.line.meta.caseId)}>{w('cases.open-it')}</Touch>
          <Touch onAct={save}>{w('cases.export')}</Touch>
          <CaseContent meta={props.line.meta} onSent={(_, sent) => setSaved(sent.ok)} />
          <Show when={app.open()?.meta.caseId === props.line.meta.caseId}>
            <Touch
              onAct={() => {
                app.session.leave();
                props.onClose();
              }}
            >
              <span>{w('cases.put-away')}</span>
              <small>{w('cases.put-away-note')}</small>
            </Touch>
          </Show>
        </div>
        <Show when={saved()}>
          <p role="status">{w('cases.exported')}</p>
        </Show>
        <Show
          when={asking()}
          fallback={
            <Touch consequential apart="block" onAct={() => setAsking(true)} closed={follows()}>
              {w('cases.wipe', { count: count() })}
            </Touch>
          }
        >
          <div class="wipe-asked">
            <p>
              <b>{w('cases.wipe-question', { count: count() })}</b>{' '}
              {saved() ? w('cases.wipe-saved') : w('cases.wipe-not-saved')}
            </p>
            <div class="choice-row">
              <Touch onAct={() => setAsking(false)}>{w('cases.keep')}</Touch>
              <Show when={!saved()}>
                <Touch onAct={save}>{w('cases.export-first')}</Touch>
              </Show>
              <Touch consequential onAct={() => void wipe()}>
                {w('cases.wipe-yes', { count: count() })}
              </Touch>
            </div>
          </div>
        </Show>
      </div>
    </Sheet>
  );
}
