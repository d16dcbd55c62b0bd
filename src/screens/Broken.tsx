import { createSignal, onMount, Show } from 'solid-js';
import { wordsOf } from '../device/failures.ts';
import type { Messages } from '../format/messages.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';

export interface BrokenProps {
  error: unknown;
  w: Messages;
  /** Entries of the open case, each on disk before it was shown; null when no case is open. */
  entries: number | null;
  /** Draws the screen again: the case and its log are held outside it. */
  again: () => void;
}

/** Stands in the place of a screen that could not be drawn. It draws nothing of the case, so that it can't fail alike. */
export function Broken(props: BrokenProps) {
  const [shown, setShown] = createSignal(false);
  createLayoutGuard(shown);
  // Also for whoever looks into it later: the browser's own record has the whole of it.
  onMount(() => console.error(props.error));
  return (
    <main class="unsaved" role="alertdialog" aria-label={props.w('broken.title')}>
      <h1 class="stage">{props.w('broken.title')}</h1>
      <p class="say">
        {props.entries === null ? props.w('broken.no-case') : props.w('broken.on-disk', { count: props.entries })}
      </p>
      <div class="choice-row">
        <Touch onAct={() => props.again()}>{props.w('broken.again')}</Touch>
        <Touch onAct={() => setShown(!shown())}>{props.w('broken.details')}</Touch>
      </div>
      <Show when={shown()}>
        <p>{wordsOf(props.error)}</p>
      </Show>
    </main>
  );
}
