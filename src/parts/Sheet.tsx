import { onCleanup, onMount, createUniqueId, type JSX } from 'solid-js';
import { Touch } from './Touch.tsx';
import { layoutChanged } from './tap-guard.ts';

export interface SheetProps {
  title: string;
  /** Words of the touch that leads back. */
  close: string;
  onClose: () => void;
  /** It is all of its page: its name is the heading of the page. */
  page?: boolean;
  children: JSX.Element;
}

/**
 * A panel that takes the place of what stood there; nothing lies beneath it, so it is a region and no dialogue.
 * Focus moves to its heading and returns when it goes; Escape closes it.
 */
export function Sheet(props: SheetProps) {
  const id = createUniqueId();
  let heading!: HTMLHeadingElement;
  const before = document.activeElement;
  onMount(() => {
    layoutChanged(performance.now());
    heading.focus();
  });
  onCleanup(() => {
    layoutChanged(performance.now());
    if (before instanceof HTMLElement && before.isConnected) before.focus();
  });
  return (
    <section
      class="sheet"
      aria-labelledby={id}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        props.onClose();
      }}
    >
      <header class="sheet-head">
        <h2 id={id} ref={heading} tabindex="-1" aria-level={props.page ? 1 : undefined}>
          {props.title}
        </h2>
        <Touch onAct={() => props.onClose()}>{props.close}</Touch>
      </header>
      <div class="sheet-body">{props.children}</div>
    </section>
  );
}
