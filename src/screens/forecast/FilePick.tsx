import { Touch } from '../../parts/Touch.tsx';

export interface FilePickProps {
  /** Words of the touch. */
  label: string;
  closed?: string | undefined;
  onBytes: (bytes: Uint8Array) => void;
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
        accept=".json,application/json"
        class="chooser"
        aria-label={props.label}
        tabindex="-1"
        onChange={() => void take()}
      />
      <Touch onAct={() => chooser.click()} closed={props.closed}>
        {props.label}
      </Touch>
    </>
  );
}
