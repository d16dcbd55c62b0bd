import { For, Show, createMemo, createSignal } from 'solid-js';
import { roles, type Role } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { loadContent } from '../../../content/catalog.ts';
import { ruleVersions } from '../../../machines/fold.ts';
import type { CaseRecord } from '../../record/model.ts';
import { textHash } from '../../record/signing.ts';
import { localeOf } from '../../record/locales/index.ts';
import { useApp } from '../app.ts';
import { offers, oneValue } from '../closing/offers.ts';
import type { Recorder } from '../closing/recorder.ts';
import { Twice } from '../closing/Twice.tsx';
import { valueOf } from './record-of.ts';

/** Who signs, as what, and what the signature means. Asked twice, with what is not recorded named first. */
export function SignSheet(props: { record: CaseRecord; recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const roleWord = () => localeOf(app.content().phrases.language).roles;
  const { w } = app;
  const [who, setWho] = createSignal('');
  const [role, setRole] = createSignal<Role | null>(null);
  const [meaning, setMeaning] = createSignal('');
  const gaps = createMemo(() =>
    app.content().ids.noteFields.filter((field) => valueOf(props.record, field).state === 'not-recorded'),
  );
  const listed = () => app.open()?.folded.case.context.people ?? [];
  const people = () => listed().map((one) => one.who);
  const name = (text: string) => {
    setWho(oneValue(text, people()));
    const known = listed().find((one) => one.who === who());
    if (known) setRole(known.role);
  };
  const lacks = () =>
    who().trim() === ''
      ? w('record.who-first')
      : role() === null
        ? w('record.role-first')
        : meaning().trim() === ''
          ? w('record.meaning-first')
          : undefined;
  /** The rules it is signed under, and the words that are signed: those in English, where they are at hand. */
  const signedWords = () => {
    const open = app.open();
    const { number: rules } = ruleVersions.current();
    const content = open && (loadContent(open.meta.contentVersion, 'en') ?? open.folded.content);
    if (!open || content?.phrases.language !== 'en') return { rules };
    return { rules, textHash: textHash(open.entries, content, open.meta.format) };
  };
  const sign = async () => {
    const as = role();
    if (as === null) return;
    const words = { who: who().trim(), role: as, meaning: meaning().trim() };
    if (await props.recorder.record({ type: 'signed', ...words, ...signedWords() })) props.onClose();
  };
  return (
    <Sheet title={w('record.sign')} close={w('closing.back')} onClose={() => props.onClose()}>
      <div class="closing-form">
        <Show when={gaps().length || !props.record.facts.told.length} fallback={<p>{w('record.no-gaps')}</p>}>
          <p>
            {w('record.gaps')}{' '}
            <For
              each={[
                ...gaps().map((field) => app.content().phrases.noteFields[field]),
                ...(props.record.facts.told.length ? [] : [w('record.told')]),
              ]}
            >
              {(label, index) => (
                <>
                  {index() > 0 ? ', ' : ''}
                  <b>{label}</b>
                </>
              )}
            </For>
          </p>
        </Show>
        <TextEntry label={w('record.who')} value={who()} rows={1} offers={people()} onInput={name} />
        <Choice
          label={w('record.role')}
          options={roles.map((value) => ({ value, label: roleWord()[value] }))}
          value={role()}
          onChoose={setRole}
        />
        <TextEntry
          label={w('record.meaning')}
          value={meaning()}
          rows={1}
          offers={offers(w, 'record.offer.meaning')}
          onInput={(text) => setMeaning(oneValue(text, offers(w, 'record.offer.meaning')))}
        />
        <Twice
          label={w('record.sign')}
          question={w('record.sign-question', { who: who(), role: role() === null ? '' : roleWord()[role() as Role] })}
          yes={w('record.sign-yes')}
          closed={lacks()}
          onYes={() => void sign()}
        />
      </div>
    </Sheet>
  );
}
