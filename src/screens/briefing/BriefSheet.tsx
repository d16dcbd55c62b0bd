import { For, createMemo } from 'solid-js';
import { Portal } from 'solid-js/web';
import { boneName } from '../../../content/names.ts';
import { printPage } from '../../device/share.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import type { Page, Section } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { sideWord } from '../cases/side-word.ts';
import { createOutlook } from '../forecast/outlook.ts';
import { Paper } from '../record/Paper.tsx';
import { shortId } from '../record/record-of.ts';
import { briefOf } from './brief.ts';
import type { StepProps } from './step.ts';
import '../record.css';
import './brief.css';

export interface BriefSheetProps {
  ready: StepProps['ready'];
  onClose: () => void;
}

/** The plan on one page, read here as it prints. */
export function BriefSheet(props: BriefSheetProps) {
  const app = useApp();
  const { w } = app;
  const outlook = createOutlook(app);
  const page = createMemo((): Page | null => {
    const open = app.open();
    return open && briefOf(app, { open, ready: props.ready(), outlook: outlook() });
  });
  const opened = () => app.open()?.folded.case.context.room.opened;
  const alone = (section: Section): Page => ({ title: '', sections: [section] });
  const waiting = () =>
    outlook() === null && (app.open()?.folded.screws.size ?? 0) > 0 ? w('plan.working-out') : undefined;
  return (
    <Sheet title={w('plan.brief.open')} close={w('plan.back')} onClose={() => props.onClose()}>
      <div class="question">
        <div class="choice-row">
          <Touch onAct={() => void printPage()} closed={waiting()}>
            {w('plan.brief.print')}
          </Touch>
        </div>
        <Paper page={page() ?? { title: '', sections: [] }} />
      </div>
      <Portal>
        <div class="print-paper brief-paper" aria-hidden="true">
          <p class="brief-head">
            <b>
              {sideWord(w, opened()?.side ?? '')} {boneName(app.content(), opened()?.bone ?? '')}
            </b>{' '}
            · {opened()?.label} · {w('record.case-id', { id: shortId(app.open()?.meta.caseId ?? '') })}
            {app.open()?.meta.demo ? ` · ${w('cases.invented')}` : ''}
          </p>
          <h1>{w('plan.brief.title')}</h1>
          <div class="brief-columns">
            <For each={page()?.sections ?? []}>{(section) => <Paper page={alone(section)} />}</For>
          </div>
          <p class="print-end">{w('plan.brief.end')}</p>
        </div>
      </Portal>
    </Sheet>
  );
}
