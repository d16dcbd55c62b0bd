import { For, createMemo } from 'solid-js';
import { differences } from '../../../content/overlay-diff.ts';
import { contentOf } from '../../../content/overlay.ts';
import type { OverlayFile } from '../../../content/overlay.types.ts';
import { useApp } from '../app.ts';
import { differenceWords } from './difference-words.ts';
import { releaseOf } from './draft.ts';

/** Everything in which a version differs from the release beneath it. */
export function Changes(props: { overlay: OverlayFile }) {
  const { w } = useApp();
  const lines = createMemo(() => {
    const release = releaseOf(props.overlay);
    const own = contentOf(props.overlay.version, props.overlay);
    return own ? differenceWords(w, release, own, differences(release, own)) : [];
  });
  return (
    <section class="changes" aria-label={w('department.changes', { base: props.overlay.base })}>
      <h2>{w('department.changes', { base: props.overlay.base })}</h2>
      <ul>
        <For each={lines()} fallback={<li>{w('department.no-changes')}</li>}>
          {(line) => <li>{line}</li>}
        </For>
      </ul>
    </section>
  );
}
