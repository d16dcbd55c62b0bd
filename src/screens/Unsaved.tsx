import { createSignal, Show } from 'solid-js';
import { deferred } from '../deferred.ts';
import type { Failure } from '../failure.ts';
import { Touch } from '../parts/Touch.tsx';
import { useApp } from './app.ts';
import { sayNext } from './table/said.ts';
import { failureWords } from './failure-words.ts';

const files = deferred(() => import('../session/case-file.ts'));

/** The visible stop when an entry could not be written: it stays in view, to be tried again, kept as a file, or given up. */
export function Unsaved() {
  const app = useApp();
  const [tried, setTried] = createSignal<Failure | null>(null);
  const waiting = () => app.session.unsaved();
  const words = () => {
    const now = waiting();
    const open = app.open();
    return now && open ? sayNext(now.entry, open.folded, open.entries) : '';
  };
  const retry = async () => {
    const result = await app.session.retry();
    setTried(result.ok ? null : result.reason);
  };
  const save = () => {
    const open = app.open();
    const now = waiting();
    if (!open || !now) return;
    const entries = [...open.entries, now.entry];
    const loaded = files.loaded();
    // Within the touch where it can be: a browser may refuse a file that comes later.
    if (loaded) loaded.downloadCase(open, entries);
    else
      files.load().then(
        ({ downloadCase }) => downloadCase(open, entries),
        () => setTried({ code: 'not-fetched' }),
      );
  };
  return (
    <main class="unsaved" role="alertdialog" aria-label={app.w('unsaved.title')}>
      <h1 class="stage">{app.w('unsaved.title')}</h1>
      <p class="say">{words()}</p>
      <Show when={waiting()}>
        {(now) => <p>{app.w('unsaved.reason', { reason: failureWords(app.w, now().reason) })}</p>}
      </Show>
      <Show when={tried()}>
        {(reason) => <p>{app.w('unsaved.again', { reason: failureWords(app.w, reason()) })}</p>}
      </Show>
      <div class="choice-row">
        <Touch onAct={() => void retry()}>{app.w('unsaved.retry')}</Touch>
        <Touch onAct={save}>{app.w('unsaved.export')}</Touch>
        <Touch consequential onAct={() => app.session.giveUp()}>
          {app.w('unsaved.give-up')}
        </Touch>
      </div>
    </main>
  );
}
