import { Show } from 'solid-js';
import { Touch } from './Touch.tsx';

export interface FilePickProps {
  /** Words of the touch. */
  label: string;
  /** A second, smaller line. */
  note?: string | undefined;
  /** Spoken name of the choice itself; the words of the touch if left out. */
  name?: string | undefined;
  /** Kinds of file, as a browser wants them; JSON if left out. */
  accept?: string | undefined;
  closed?: string | undefined;
  onBytes: (bytes: Uint8Array<ArrayBuffer>) => void;
}

/** A touch that asks for one file of this device and hands over what is in it. */
export function FilePick(props: FilePickProps) {
  let chooser!: HTMLInputElement;
  const take = async () => {
    const file = chooser.files?.[0];
    chooser.value = '';
    if (file) props.onBytes(new Uint8Array(await file.arrayBuffer()));
  };
  return (
    <>
      <input
        ref={chooser}
        type="file"
        accept={props.accept ?? '.json,application/json'}
        class="chooser"
        aria-label={props.name ?? props.label}
        tabindex="-1"
        onChange={() => void take()}
      />
      <Touch onAct={() => chooser.click()} closed={props.closed}>
        <Show when={props.note} fallback={props.label}>
          <span>{props.label}</span>
          <small>{props.note}</small>
        </Show>
      </Touch>
    </>
  );
}
