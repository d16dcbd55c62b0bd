import { For, Show } from 'solid-js';
import { Portal } from 'solid-js/web';
import type { CaseRecord, Page, Section } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { Paper } from './Paper.tsx';
import type { Printed } from './printed.ts';
import { shortId } from './record-of.ts';
import { StillInDrawings } from './StillInDrawings.tsx';

export interface PrintProps {
  record: CaseRecord;
  /** Each begins on a sheet of its own. */
  sheets: readonly { printed: Printed; page: Page }[];
}

/**
 * The printed sheets; they are not shown on the screen. The head of the table repeats on every
 * sheet and carries side and case; the numbers of the sheets come from the margin boxes of the print style.
 */
export function Print(props: PrintProps) {
  const app = useApp();
  const { w } = app;
  const facts = () => props.record.facts;
  const annexFrom = (page: Page) => page.sections.findIndex(({ id }) => id === 'annexes');
  const alone = (section: Section): Page => ({ title: '', sections: [section] });
  return (
    <Portal>
      <div class="print-paper" aria-hidden="true">
        <Show when={facts().status === 'draft'}>
          <div class="print-draft">{w('record.draft')}</div>
        </Show>
        <table data-only={props.sheets.every(({ printed }) => printed === 'patient') ? 'patient' : undefined}>
          <thead>
            <tr>
              <td>
                <b>
                  {facts().side} {facts().bone}
                </b>{' '}
                · {facts().label} · {w('record.case-id', { id: shortId(app.open()?.meta.caseId ?? '') })} ·{' '}
                <b>{w(`record.status.${facts().status}`)}</b>
                <Show when={app.open()?.meta.demo}> · {w('closing.invented')}</Show>
              </td>
            </tr>
          </thead>
          <tbody>
            <For each={props.sheets}>
              {({ printed, page }, at) => (
                <>
                  <tr data-first={at() > 0 ? '' : undefined}>
                    <td>
                      <h1>{page.title}</h1>
                    </td>
                  </tr>
                  <For each={page.sections}>
                    {(section, i) => (
                      <tr
                        data-paper={printed}
                        data-annex={annexFrom(page) >= 0 && i() >= annexFrom(page) ? '' : undefined}
                        data-first={i() === annexFrom(page) ? '' : undefined}
                      >
                        <td>
                          <Paper
                            page={alone(section)}
                            first={(one) => (
                              <Show when={printed === 'still-in' && one.id === 'surgeon'}>
                                <StillInDrawings record={props.record} />
                              </Show>
                            )}
                          />
                        </td>
                      </tr>
                    )}
                  </For>
                </>
              )}
            </For>
            {/* The patient has one sheet, and nothing on it that is not for the patient. */}
            <Show when={props.sheets.some(({ printed }) => printed !== 'patient')}>
              <tr>
                <td>
                  <p class="print-end">
                    {w('record.end-of-print', { entries: app.open()?.entries.length ?? 0 })} {w('closing.not-official')}
                  </p>
                </td>
              </tr>
            </Show>
          </tbody>
        </table>
      </div>
    </Portal>
  );
}
