import { Show } from 'solid-js';
import type { OverlayFile } from '../../../content/overlay.types.ts';
import { download, type Sent } from '../../device/share.ts';
import { Touch } from '../../parts/Touch.tsx';
import { departmentFile } from '../../session/department-file.ts';
import type { CaseMeta } from '../../store/port.ts';
import { useApp } from '../app.ts';

/** The department's content that a case was opened with, as the file that it is read with elsewhere. */
export function CaseContent(props: { meta: CaseMeta | undefined; onSent: (name: string, sent: Sent) => void }) {
  const { w } = useApp();
  return (
    <Show when={props.meta?.overlay as OverlayFile | undefined}>
      {(overlay) => (
        <Touch
          onAct={() => {
            const file = departmentFile(overlay());
            props.onSent(file.name, download(file));
          }}
        >
          {w('department.case-content')}
          <small>{w('department.case-content-note')}</small>
        </Touch>
      )}
    </Show>
  );
}
