import { For, Show } from 'solid-js';
import type { Rehearsed } from '../../../machines/rehearsed.ts';
import { ranges } from '../../format/lists.ts';
import { Touch } from '../../parts/Touch.tsx';
import type { Otherwise } from '../../session/rehearsal.ts';
import { useApp } from '../app.ts';
import { sideWord } from '../cases/side-word.ts';
import { boneName } from '../../../content/names.ts';
import { rehearsalMinutes } from './minutes.ts';
import { holdWords, lackWords, otherwiseWords, unmeasuredWords } from './words.ts';

/** Why the last page came: every screw came to an end, the minutes are over, somebody touched it. */
export type EndedBy = 'all' | 'time' | 'touch';

export interface LastPageProps {
  found: Rehearsed;
  otherwise: readonly Otherwise[];
  seed: number;
  by: EndedBy;
  onGoOn: () => void;
  onAgain: (same: boolean) => void;
  onClose: () => void;
}

/** What the rehearsal came upon. It is shown and not kept. */
export function LastPage(props: LastPageProps) {
  const app = useApp();
  const { w } = app;
  const opened = () => app.open()?.folded.case.context.room.opened;
  const some = (screws: readonly string[]) => (screws.length > 0 ? ranges(screws) : w('rehearsal.no-screw'));
  const parts = () => {
    const open = app.open();
    return [
      { title: w('rehearsal.lack'), lines: lackWords(app, props.found), none: '' },
      {
        title: w('rehearsal.holds'),
        lines: props.found.holds.map((hold) => holdWords(app, hold)),
        none: w('rehearsal.holds-none'),
      },
      {
        title: w('rehearsal.unmeasured'),
        lines: open ? unmeasuredWords(app, open, props.found) : [],
        none: w('rehearsal.unmeasured-none'),
      },
      {
        title: w('rehearsal.otherwise'),
        lines: props.otherwise.map((one) => otherwiseWords(app, one)),
        none: w('rehearsal.otherwise-none'),
      },
    ];
  };
  return (
    <main class="rehearsal-end">
      <header>
        <b class="rehearsal-mark">
          {w('rehearsal.mark')} {w('cases.invented')}
        </b>
        <h1>{w('rehearsal.title')}</h1>
        <b>
          {sideWord(w, opened()?.side ?? '')} {boneName(app.content(), opened()?.bone ?? '')}
        </b>
      </header>
      <section class="rehearsal-told scrolls" aria-label={w('rehearsal.title')} tabindex="0">
        <p>
          <b>{w(`rehearsal.by.${props.by}`, { minutes: rehearsalMinutes })}</b>{' '}
          {w('rehearsal.score', {
            out: some(props.found.out),
            left: some(props.found.left),
            in: some(props.found.in),
          })}
        </p>
        <div class="rehearsal-parts">
          <For each={parts()}>
            {({ title, lines, none }) => (
              <section aria-label={title}>
                <h2>{title}</h2>
                <Show when={lines.length > 0} fallback={<p>{none}</p>}>
                  <ul>
                    <For each={lines}>{(line) => <li>{line}</li>}</For>
                  </ul>
                </Show>
              </section>
            )}
          </For>
        </div>
        <p class="soft">{w('rehearsal.how', { seed: String(props.seed) })}</p>
      </section>
      <footer>
        <Touch onAct={() => props.onClose()}>{w('rehearsal.back')}</Touch>
        <Touch onAct={() => props.onAgain(true)}>{w('rehearsal.same')}</Touch>
        <Touch onAct={() => props.onAgain(false)}>{w('rehearsal.another')}</Touch>
        <Touch onAct={() => props.onGoOn()}>{w('rehearsal.go-on')}</Touch>
      </footer>
    </main>
  );
}
