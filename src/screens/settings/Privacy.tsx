import { For, Match, Show, Switch, createSignal } from 'solid-js';
import { Choice } from '../../parts/Choice.tsx';
import { PasscodeForm } from '../../parts/PasscodeForm.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { leastCharacters } from '../../store/encrypted/passcode.ts';
import type { Switched } from '../../store/encrypted/vault.ts';
import { useApp } from '../app.ts';
import { createWait, tooShort, triedWords } from '../tried.ts';
import { usePrivacy, type DevicePrivacy } from '../privacy.ts';
import '../privacy.css';
import { allFailureWords } from '../failure-words.ts';

/** Minutes and months on offer (common practice, no source). */
const idleOffers = [2, 5, 10, 15, 30];
const retentionOffers = [3, 6, 12, 24];

/** The passcode of this device, when it is asked for, and when a case counts as old. */
export function Privacy() {
  return <Show when={usePrivacy()}>{(privacy) => <PrivacyOf privacy={privacy()} />}</Show>;
}

type Doing = 'set' | 'change' | 'take-off';

function PrivacyOf(props: { privacy: DevicePrivacy }) {
  const app = useApp();
  const { w } = app;
  const [doing, setDoing] = createSignal<Doing | null>(null);
  const [told, setTold] = createSignal<string | null>(null);
  createLayoutGuard(doing);
  const why = () => {
    if (!app.writer()) return w('cases.follows');
    return app.open() ? w('data.in-case') : undefined;
  };
  const begin = (what: Doing) => {
    setTold(null);
    setDoing(what);
  };
  const facts = () => [
    w('privacy.when'),
    w('privacy.trade'),
    w('privacy.visible'),
    w('privacy.before'),
    w('privacy.device'),
  ];
  return (
    <div class="privacy">
      <Switch>
        <Match when={doing()}>
          {(what) => (
            <Typing
              privacy={props.privacy}
              doing={what()}
              onBack={() => setDoing(null)}
              onDone={(words) => {
                setDoing(null);
                setTold(words);
              }}
            />
          )}
        </Match>
        <Match when={!doing()}>
          <p>
            <b>{props.privacy.on() ? w('privacy.on') : w('privacy.off')}</b>
          </p>
          <Show when={told()}>{(words) => <p role="status">{words()}</p>}</Show>
          <Show when={app.open()}>
            <p>{w('privacy.in-case')}</p>
          </Show>
          <div class="choice-row">
            <Show
              when={props.privacy.on()}
              fallback={
                <Touch onAct={() => begin('set')} closed={why()}>
                  {w('privacy.set')}
                </Touch>
              }
            >
              <Touch onAct={() => void props.privacy.lock()} closed={why()}>
                {w('privacy.lock-now')}
              </Touch>
              <Touch onAct={() => begin('change')} closed={why()}>
                {w('privacy.change')}
              </Touch>
              <Touch onAct={() => begin('take-off')} closed={why()}>
                {w('privacy.take-off')}
              </Touch>
            </Show>
          </div>
          <Choice
            label={w('privacy.idle')}
            options={idleOffers.map((value) => ({ value, label: w('privacy.minutes', { minutes: value }) }))}
            value={props.privacy.idleMinutes()}
            onChoose={(minutes) => props.privacy.setIdleMinutes(minutes)}
          />
          <Choice
            label={w('privacy.retention')}
            options={[
              { value: 0, label: w('privacy.never') },
              ...retentionOffers.map((value) => ({ value, label: w('privacy.months', { months: value }) })),
            ]}
            value={props.privacy.retentionMonths() ?? 0}
            onChoose={(months) => props.privacy.setRetentionMonths(months || null)}
          />
          <ul class="small">
            <For each={facts()}>{(line) => <li>{line}</li>}</For>
          </ul>
        </Match>
      </Switch>
    </div>
  );
}

interface TypingProps {
  privacy: DevicePrivacy;
  doing: Doing;
  onBack: () => void;
  onDone: (words: string) => void;
}

/** The passcode typed: what can and cannot be saved stands above it before it is set. */
function Typing(props: TypingProps) {
  const { w } = useApp();
  const [told, setTold] = createSignal<string | null>(null);
  const [busy, setBusy] = createSignal(false);
  const wait = createWait(() => props.privacy.secondsLeft());
  const ways = {
    set: {
      fields: [w('privacy.new'), w('privacy.again')],
      yes: w('privacy.set-yes'),
      done: w('privacy.done-set'),
      run: ([fresh = '']: readonly string[]) => props.privacy.set(fresh),
    },
    change: {
      fields: [w('privacy.now'), w('privacy.new'), w('privacy.again')],
      yes: w('privacy.change-yes'),
      done: w('privacy.done-change'),
      run: ([now = '', fresh = '']: readonly string[]) => props.privacy.change(now, fresh),
    },
    'take-off': {
      fields: [w('privacy.now')],
      yes: w('privacy.take-off-yes'),
      done: w('privacy.done-take-off'),
      run: ([now = '']: readonly string[]) => props.privacy.takeOff(now),
    },
  };
  const way = () => ways[props.doing];
  const closed = (typed: readonly string[]) => {
    if (busy()) return w('lock.busy');
    if (props.doing !== 'set' && wait() > 0) return w('lock.wait', { seconds: wait() });
    const short = typed.map((one) => tooShort(w, one)).find((words) => words !== undefined);
    if (short || props.doing === 'take-off') return short;
    return typed.at(-1) === typed.at(-2) ? undefined : w('privacy.differ');
  };
  const run = async (typed: readonly string[]) => {
    setBusy(true);
    setTold(w('lock.busy'));
    await new Promise((painted) => setTimeout(painted, 50));
    const result: Switched = await way().run(typed);
    setBusy(false);
    if (!result.ok) return setTold(triedWords(w, result));
    const partly = result.partly.length ? ` ${w('privacy.partly', { reason: allFailureWords(w, result.partly) })}` : '';
    return props.onDone(way().done + partly);
  };
  return (
    <>
      <Show when={props.doing !== 'take-off'}>
        <p>
          <b>{w('privacy.forgotten')}</b>
        </p>
        <p class="small">{w('privacy.length', { count: leastCharacters })}</p>
      </Show>
      <PasscodeForm
        fields={way().fields}
        words={{ done: way().yes, rubOut: w('lock.rub-out') }}
        closed={closed}
        onDone={(typed) => void run(typed)}
      />
      <p role="status">{told()}</p>
      <Touch onAct={() => props.onBack()}>{w('privacy.back')}</Touch>
    </>
  );
}
