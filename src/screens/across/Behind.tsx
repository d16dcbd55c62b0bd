import { onMount } from 'solid-js';
import { Sheet, type SheetProps } from '../../parts/Sheet.tsx';

/** The figures behind a picture, from their top: wherever the page stood, it begins with the way back. */
export function Behind(props: SheetProps) {
  let here!: HTMLDivElement;
  onMount(() => {
    if (here.parentElement) here.parentElement.scrollTop = 0;
  });
  return (
    <div ref={here}>
      <Sheet {...props} />
    </div>
  );
}
