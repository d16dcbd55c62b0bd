import { For, Show, createSignal, onMount } from 'solid-js';
import { PasscodeForm } from '../parts/PasscodeForm.tsx';
import { Touch } from '../parts/Touch.tsx';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { useApp } from './app.ts';
import { createWait, tooShort, triedWords } from './tried.ts';
import { usePrivacy, type DevicePrivacy } from './privacy.ts';
import './privacy.css';
import { allFailureWords } from './failure-words.ts';

/** Asks for the passcode. Shows nothing of any case; the cautions stay readable. */
export function Lock() {
  return <Show when={usePrivacy()}>{(privacy) => <Locked privacy={privacy()} />}</Show>;
}

function Locked(props: { privacy: DevicePrivacy }) {
  const app = useApp();
  const { w } = app;
  const [told, setTold] = createSignal<string | null>(null);
  const [busy, setBusy] = createSignal(false);
  const wait = createWait(() => props.privacy.secondsLeft());
  const unlock = async ([passcode = '']: readonly string[]) => {
    setBusy(true);
    setTold(w('lock.busy'));
    await painted();
    const tried = await props.privacy.unlock(passcode);
    setBusy(false);
    if (!tried.ok) setTold(triedWords(w, tried));
  };
  const closed = ([passcode = '']: readonly string[]) => {
    if (busy()) return w('lock.busy');
    return wait() > 0 ? w('lock.wait', { seconds: wait() }) : tooShort(w, passcode);
  };
  return (
    <main class="lock">
      <section class="lock-entry" aria-label={w('lock.title')}>
        <h1>{w('lock.title')}</h1>
        <p>{w('lock.lead')}</p>
        <PasscodeForm
          fields={[w('lock.passcode')]}
          words={{ done: w('lock.open'), rubOut: w('lock.rub-out') }}
          closed={closed}
          onDone={(typed) => void unlock(typed)}
        />
        <p role="status" class="lock-told">
          {told()}
        </p>
      </section>
      <section class="lock-side scrolls" aria-label={w('lock.cautions')} tabindex="0">
        <h2>{w('lock.cautions')}</h2>
        <ul class="small">
          <For each={app.content().phrases.cautions}>{(line) => <li>{line}</li>}</For>
        </ul>
        <Show when={app.writer()} fallback={<p class="small">{w('lock.follows')}</p>}>
          <Forgotten privacy={props.privacy} />
        </Show>
      </section>
    </main>
  );
}

/** Two frames: the words are on the screen before the long sum starts. */
const painted = () => new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => done())));

/** The way out when nobody knows it: said first what goes, then asked twice. */
function Forgotten(props: { privacy: DevicePrivacy }) {
  const { w } = useApp();
  const [step, setStep] = createSignal<'closed' | 'told' | 'asked'>('closed');
  const [count, setCount] = createSignal(0);
  const [refused, setRefused] = createSignal<string | null>(null);
  createLayoutGuard(step);
  onMount(() => void props.privacy.cases().then((ids) => setCount(ids.length)));
  const wipe = async () => {
    const refusals = await props.privacy.wipeForgotten();
    setRefused(refusals.length ? allFailureWords(w, refusals) : null);
    setStep('closed');
  };
  return (
    <div class="lock-forgotten">
      <Touch onAct={() => setStep(step() === 'closed' ? 'told' : 'closed')} current={step() !== 'closed'}>
        {w('lock.forgotten')}
      </Touch>
      <Show when={refused()}>{(reason) => <p role="status">{w('lock.not-wiped', { reason: reason() })}</p>}</Show>
      <Show when={step() !== 'closed'}>
        <p>{w('lock.forgotten-lead', { count: count() })}</p>
        <Show
          when={step() === 'asked'}
          fallback={
            <Touch consequential apart="block" onAct={() => setStep('asked')}>
              {w('lock.wipe', { count: count() })}
            </Touch>
          }
        >
          <p>
            <b>{w('lock.wipe-question', { count: count() })}</b>
          </p>
          <div class="choice-row">
            <Touch onAct={() => setStep('closed')}>{w('lock.keep')}</Touch>
            <Touch consequential onAct={() => void wipe()}>
              {w('lock.wipe-yes', { count: count() })}
            </Touch>
          </div>
        </Show>
      </Show>
    </div>
  );
}
