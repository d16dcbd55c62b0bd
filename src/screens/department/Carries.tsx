import { Match, Show, Switch, createResource } from 'solid-js';
import { carriedTo, standingOver } from '../../session/carried.ts';
import { department, type Department } from '../../session/department.ts';
import { useApp } from '../app.ts';
import { FaultList } from '../Faults.tsx';

/**
 * How the department's content in use stands to the next release: carried over as what, or what of it has no place there,
 * by its path. Nothing where none is in use.
 */
export function Carries(props: { kept?: Department }) {
  const { w } = useApp();
  const inUse = () => (props.kept ?? department()).inUse();
  const [stands] = createResource(inUse, (overlay) => standingOver(overlay));
  const refused = () => {
    const now = stands();
    return now?.state === 'refused' ? now.faults : undefined;
  };
  const carried = () => {
    const now = stands();
    return now?.state === 'carried' ? now : undefined;
  };
  return (
    <Show when={inUse()}>
      {(overlay) => (
        <Switch>
          <Match when={carried()}>
            {(now) => (
              <p class="small">
                {w('department.carried', { version: overlay().version, to: carriedTo, as: now().overlay.version })}
              </p>
            )}
          </Match>
          <Match when={refused()}>
            {(faults) => (
              <div class="small" role="status">
                <b>{w('department.no-place', { version: overlay().version, to: carriedTo, count: faults().length })}</b>
                <FaultList faults={faults()} />
              </div>
            )}
          </Match>
        </Switch>
      )}
    </Show>
  );
}
