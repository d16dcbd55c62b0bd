import { Show, createMemo, type JSX } from 'solid-js';
import { boneName } from '../../../content/names.ts';
import { epoch, inZone } from '../../../machines/time.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { sideWord } from '../cases/side-word.ts';
import { sayEntry } from '../table/said.ts';

export interface AccountHeadProps {
  title: string;
  /** Words of the way back, and where it leads. */
  back: string;
  onBack: () => void;
  /** Why the last entry was not taken, in words. */
  refused: string | null;
  /** Touches at the end of the row. */
  children?: JSX.Element;
}

/** The way back, the case with its side as a word, and the last entry as it stands on disk. */
export function AccountHead(props: AccountHeadProps) {
  const app = useApp();
  const opened = createMemo(() => app.open()?.folded.case.context.room.opened ?? null);
  const zone = () => opened()?.zone ?? 'UTC';
  const last = createMemo(() => {
    const open = app.open();
    const entry = open?.entries.at(-1);
    if (!open || !entry) return null;
    const time = inZone(epoch(entry.at), zone()).time;
    return {
      time,
      late: open.folded.late.includes(entry.n) ? app.w('closing.late') : '',
      text: sayEntry(entry, open.folded),
    };
  });
  return (
    <header class="closing-head">
      <Touch onAct={() => props.onBack()}>{props.back}</Touch>
      <div class="closing-who">
        <h1>
          {props.title}
          <Show when={opened()}>
            {(one) => (
              <span class="closing-case">
                {' '}
                <span class="closing-label">{one().label}</span> · <b>{sideWord(app.w, one().side)}</b>{' '}
                {boneName(app.content(), one().bone)}
              </span>
            )}
          </Show>
          <Show when={app.open()?.meta.demo}> · {app.w('closing.invented')}</Show>
        </h1>
        <p class="closing-said" aria-live="polite">
          <Show
            when={props.refused}
            fallback={
              <Show when={last()}>
                {(entry) => (
                  <>
                    <span class="figure">{entry().time}</span> <b>{entry().late}</b> {entry().text}
                  </>
                )}
              </Show>
            }
          >
            <b>{app.w('closing.not-recorded', { why: props.refused ?? '' })}</b>
          </Show>
        </p>
      </div>
      <b class="figure closing-time">{inZone(app.tick(), zone()).time}</b>
      {props.children}
    </header>
  );
}
