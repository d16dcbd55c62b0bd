import { For, Match, Show, Switch, createResource, createSignal } from 'solid-js';
import { download } from '../../device/share.ts';
import { FilePick } from '../../parts/FilePick.tsx';
import { PasscodeForm } from '../../parts/PasscodeForm.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import type { TakenIn } from '../../session/privacy.ts';
import { FaultList } from '../Faults.tsx';
import { useApp } from '../app.ts';
import { tooShort } from '../tried.ts';
import { usePrivacy, type DevicePrivacy } from '../privacy.ts';
import '../privacy.css';
import { allFailureWords, failureWords } from '../failure-words.ts';

export interface DataSheetProps {
  onClose: () => void;
  /** Sentence about the browser's storage. */
  storage: string;
}

/** What happens to the data of this device, and the ways to take all of it out, back in, or away. */
export function DataSheet(props: DataSheetProps) {
  const { w } = useApp();
  const privacy = usePrivacy();
  return (
    <Sheet page title={w('cases.data')} close={w('cases.back')} onClose={() => props.onClose()}>
      <div class="data-sheet">
        <Show when={privacy}>{(here) => <Whole privacy={here()} />}</Show>
        <ul class="cautions">
          <li>{w('cases.data-here')}</li>
          <li>{w('cases.data-twice')}</li>
          <li>{privacy?.on() ? w('data.encrypted') : w('data.not-encrypted')}</li>
          <li>{w('cases.data-names')}</li>
          <li>{w('cases.data-keep')}</li>
          <li>{w('cases.data-wipe')}</li>
          <li>{props.storage}</li>
        </ul>
      </div>
    </Sheet>
  );
}

function Whole(props: { privacy: DevicePrivacy }) {
  const app = useApp();
  const { w } = app;
  const [told, setTold] = createSignal<string | null>(null);
  const [saved, setSaved] = createSignal(false);
  const [asking, setAsking] = createSignal(false);
  const [file, setFile] = createSignal<Uint8Array<ArrayBuffer> | null>(null);
  const [taken, setTaken] = createSignal<TakenIn | null>(null);
  const count = () => app.session.lines().length;
  const why = () => {
    if (!app.writer()) return w('cases.follows');
    return app.open() ? w('data.in-case') : undefined;
  };
  const [read, { refetch }] = createResource(() => props.privacy.branches());
  const branches = () => (read.error ? [] : (read() ?? []));
  createLayoutGuard(() => [asking(), taken()?.kind, branches().length].join());
  const labelOf = (caseId: string) =>
    app.session.lines().find(({ meta }) => meta.caseId === caseId)?.label || w('cases.no-label');
  const save = async (only?: string) => {
    const made = new Date(app.tick()).toISOString();
    const backup = await props.privacy.backup(made, only);
    if (!backup.ok) return setTold(w('data.not-saved', { reason: failureWords(w, backup.reason) }));
    const type = 'application/jsonl';
    download({
      name: `counterturn-${made.slice(0, 10)}${only === undefined ? '' : '-branch'}.backup.jsonl`,
      type,
      content: new Blob(backup.pieces, { type }),
    });
    if (only === undefined) setSaved(true);
    return setTold(w('data.saved', { count: backup.cases }));
  };
  /** The passcode that opened the file in hand, for the answer to what is asked about it. */
  let opens: string | undefined;
  const take = async (passcode?: string, changed?: 'leave' | 'take') => {
    const bytes = file();
    if (!bytes) return;
    opens = passcode;
    setTold(w('data.reading'));
    await new Promise((painted) => setTimeout(painted, 50));
    const answer = changed === 'take' ? ({ take: true, remark: w('cases.head-differs') } as const) : changed;
    const result = await props.privacy.takeIn(bytes, passcode, answer);
    setTold(null);
    setTaken(result);
    void refetch();
    if (result.kind === 'faults' || result.kind === 'taken') setFile(null);
  };
  const choose = async (bytes: Uint8Array<ArrayBuffer>) => {
    setFile(bytes);
    setTaken(null);
    await take();
  };
  const wipe = async () => {
    const refused = await props.privacy.wipeAll();
    setAsking(false);
    void refetch();
    setTold(refused.length ? w('data.not-wiped', { reason: allFailureWords(w, refused) }) : w('data.wiped'));
  };
  return (
    <>
      <div class="choice-row">
        <Touch onAct={() => void save()} closed={app.writer() ? undefined : why()}>
          <span>{w('data.save', { count: count() })}</span>
          <small>{props.privacy.on() ? w('data.save-encrypted') : w('data.save-plain')}</small>
        </Touch>
        <FilePick
          label={w('data.bring')}
          note={w('data.bring-note')}
          name={w('data.choose')}
          accept=".jsonl,application/jsonl"
          closed={why()}
          onBytes={(bytes) => void choose(bytes)}
        />
      </div>
      <p role="status">{told()}</p>
      <Brought
        taken={taken()}
        onPasscode={(passcode) => void take(passcode)}
        onChanged={(changed) => void take(opens, changed)}
      />
      <For each={branches()}>
        {({ caseId, entries }) => (
          <div class="choice-row">
            <p>{w('data.branch', { label: labelOf(caseId), count: entries })}</p>
            <Touch onAct={() => void save(caseId)}>{w('data.branch-save')}</Touch>
          </div>
        )}
      </For>
      <Show
        when={asking()}
        fallback={
          <Touch consequential apart="block" onAct={() => setAsking(true)} closed={count() ? why() : undefined}>
            {w('data.wipe', { count: count() })}
          </Touch>
        }
      >
        <div class="wipe-asked">
          <p>
            <b>{w('data.wipe-question', { count: count() })}</b>{' '}
            {saved() ? w('data.wipe-saved') : w('data.wipe-not-saved')}
          </p>
          <div class="choice-row">
            <Touch onAct={() => setAsking(false)}>{w('data.keep')}</Touch>
            <Show when={!saved()}>
              <Touch onAct={() => void save()}>{w('data.save-first')}</Touch>
            </Show>
          </div>
          <Touch consequential apart="block" onAct={() => void wipe()}>
            {w('data.wipe-yes', { count: count() })}
          </Touch>
        </div>
      </Show>
    </>
  );
}

/** What a backup brought, case by case where something was left out. */
function Brought(props: {
  taken: TakenIn | null;
  onPasscode: (passcode: string) => void;
  onChanged: (changed: 'leave' | 'take') => void;
}) {
  const { w } = useApp();
  const as = <K extends TakenIn['kind']>(kind: K) => {
    const now = props.taken;
    return now?.kind === kind ? (now as Extract<TakenIn, { kind: K }>) : undefined;
  };
  return (
    <Switch>
      <Match when={as('locked') ?? as('wrong-passcode')}>
        {(asked) => (
          <div class="data-locked">
            <p role="status">{asked().kind === 'locked' ? w('data.locked') : w('data.wrong')}</p>
            <PasscodeForm
              fields={[w('data.passcode')]}
              words={{ done: w('data.open'), rubOut: w('lock.rub-out') }}
              closed={([passcode = '']) => tooShort(w, passcode)}
              onDone={([passcode = '']) => props.onPasscode(passcode)}
            />
          </div>
        )}
      </Match>
      <Match when={as('faults')}>
        {(found) => (
          <div role="status">
            <p>
              <b>{w('data.refused', { count: found().faults.length })}</b>
            </p>
            <FaultList faults={found().faults} />
          </div>
        )}
      </Match>
      <Match when={as('changed')}>
        {(asked) => (
          <div role="status" class="data-sheet">
            <p>
              <b>{w('data.changed', { count: asked().cases.length })}</b>
            </p>
            <ul class="cautions">
              <For each={asked().cases}>
                {({ line, label, brokenAt }) => (
                  <li>{w('data.changed-case', { line, label: label || w('cases.no-label'), n: brokenAt ?? 1 })}</li>
                )}
              </For>
            </ul>
            <div class="choice-row">
              <Touch onAct={() => props.onChanged('leave')}>{w('data.changed-leave')}</Touch>
              <Touch onAct={() => props.onChanged('take')}>{w('data.changed-take')}</Touch>
            </div>
          </div>
        )}
      </Match>
      <Match when={as('taken')}>
        {(told) => (
          <div role="status" class="data-sheet">
            <p>{w('data.taken', told().count)}</p>
            <Show when={told().count.differs}>{(count) => <p>{w('data.differs', { count: count() })}</p>}</Show>
            <Show when={told().left}>{(count) => <p>{w('data.changed-left', { count: count() })}</p>}</Show>
            <Show when={told().missing}>
              {(count) => (
                <p>
                  <b>{w('data.missing', { count: count() })}</b>
                </p>
              )}
            </Show>
            <For each={told().notStored}>
              {({ line, reason }) => (
                <p>
                  <b>{w('data.line', { line, reason: failureWords(w, reason) })}</b>
                </p>
              )}
            </For>
            <Show when={told().faults.length}>
              <p>
                <b>{w('data.left-out')}</b>
              </p>
              <FaultList faults={told().faults} />
            </Show>
          </div>
        )}
      </Match>
    </Switch>
  );
}
