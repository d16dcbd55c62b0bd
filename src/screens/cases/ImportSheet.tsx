import { startOf } from '../../../machines/case-file.ts';
import { Match, Show, Switch, createSignal } from 'solid-js';
import type { Failure } from '../../failure.ts';
import { FilePick } from '../../parts/FilePick.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { isBackup } from '../../session/backup.ts';
import { fetchReleases } from '../../../content/later.ts';
import { readIncoming, type Incoming, type NewCase } from '../../session/case-import.ts';
import { headTells } from '../../session/head-tells.ts';
import { FaultList } from '../Faults.tsx';
import { useApp } from '../app.ts';
import { failureWords } from '../failure-words.ts';

export interface ImportSheetProps {
  onClose: () => void;
  onOpen: (caseId: string) => void;
  /** To the place where backups are brought in. */
  onBackup: () => void;
}

type Brought =
  | Incoming
  /** Its chain of seals is broken, and nobody has said yet whether it is wanted all the same. */
  | { kind: 'asks'; of: NewCase }
  | { kind: 'backup' }
  | { kind: 'stored'; caseId: string; seals: string }
  | { kind: 'not-stored'; reason: Failure };

/** A case file from elsewhere: taken as a case of its own, or refused with every fault and where it stands. */
export function ImportSheet(props: ImportSheetProps) {
  const app = useApp();
  const { w } = app;
  const [result, setResult] = createSignal<Brought | null>(null);
  const take = async (bytes: Uint8Array) => {
    if (isBackup(bytes)) return setResult({ kind: 'backup' });
    // Without the script of a release its cases are refused by name, and stay where they are.
    await fetchReleases().catch(() => undefined);
    const incoming = readIncoming(bytes, app.session.all());
    if (incoming.kind !== 'new') return setResult(incoming);
    if (incoming.seals === 'broken') return setResult({ kind: 'asks', of: incoming });
    return store(incoming);
  };
  const store = async (incoming: NewCase) => {
    const { entries, head } = incoming.file;
    const { contentVersion, overlay } = incoming.pin;
    const told = headTells(entries, head);
    const remark = told === null ? undefined : w(`cases.${told}`);
    const written = await app.session.bringIn(
      ...([contentVersion, entries, false, overlay, remark] as const),
      startOf(entries, incoming.file.formatVersion),
    );
    if (!written.ok) return setResult({ kind: 'not-stored', reason: written.reason });
    const seals = incoming.endMissing ? 'end-missing' : incoming.seals;
    return setResult({ kind: 'stored', caseId: written.caseId, seals });
  };
  const as = <K extends Brought['kind']>(kind: K) => {
    const now = result();
    return now?.kind === kind ? (now as Extract<Brought, { kind: K }>) : undefined;
  };
  const sealWord = (seals: string) => {
    if (seals === 'whole') return w('cases.seals-whole');
    if (seals === 'broken') return w('cases.seals-broken');
    return seals === 'end-missing' ? w('cases.end-missing') : w('cases.seals-none');
  };
  return (
    <Sheet page title={w('cases.import')} close={w('cases.back')} onClose={() => props.onClose()}>
      <div class="case-sheet scrolls">
        <p>{w('cases.import-lead')}</p>
        <FilePick
          label={w('cases.choose-file')}
          accept=".json,.jsonl,application/json,application/jsonl"
          onBytes={(bytes) => void take(bytes)}
        />
        <Switch>
          <Match when={as('faults')}>
            {(found) => (
              <div role="status">
                <p>
                  <b>{w('cases.import-refused', { count: found().faults.length })}</b>
                </p>
                <Show when={found().faults.some(({ path }) => path === 'contentVersion')}>
                  <p>{w('department.bring-first')}</p>
                </Show>
                <FaultList faults={found().faults} />
              </div>
            )}
          </Match>
          <Match when={as('backup')}>
            <div role="status" class="case-sheet">
              <p>{w('cases.import-backup')}</p>
              <Touch onAct={() => props.onBackup()}>{w('cases.data')}</Touch>
            </div>
          </Match>
          <Match when={as('known')}>
            {(known) => (
              <div role="status" class="case-sheet">
                <p>{w('cases.import-known')}</p>
                <Touch onAct={() => props.onOpen(known().caseId)}>{w('cases.open-it')}</Touch>
              </div>
            )}
          </Match>
          <Match when={as('asks')}>
            {(asked) => (
              <div role="status" class="case-sheet">
                <p>
                  <b>{w('cases.import-broken', { n: asked().of.brokenAt ?? 1 })}</b>
                </p>
                <div class="choice-row">
                  <Touch onAct={() => setResult(null)}>{w('cases.import-not')}</Touch>
                  <Touch onAct={() => void store(asked().of)}>{w('cases.import-anyway')}</Touch>
                </div>
              </div>
            )}
          </Match>
          <Match when={as('stored')}>
            {(stored) => (
              <div role="status" class="case-sheet">
                <p>
                  {w('cases.import-stored')} {sealWord(stored().seals)}
                </p>
                <Touch onAct={() => props.onOpen(stored().caseId)}>{w('cases.open-it')}</Touch>
              </div>
            )}
          </Match>
          <Match when={as('not-stored')}>
            {(failed) => <p role="status">{w('cases.refused', { reason: failureWords(w, failed().reason) })}</p>}
          </Match>
        </Switch>
      </div>
    </Sheet>
  );
}
