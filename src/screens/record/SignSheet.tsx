import { For, Show, createMemo, createSignal } from 'solid-js';
import { roles, type Role } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import type { Entry, EntryOf } from '../../../machines/entry.ts';
import { clean } from '../../format/prose.ts';
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

type Person = Pick<EntryOf<'person-listed'>, 'role' | 'who'>;

/** Who signs, among the people listed or by a name typed by hand, as what, and what the signature means. Asked twice, with what is not recorded named first. */
export function SignSheet(props: { record: CaseRecord; recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const roleWord = () => localeOf(app.content().phrases.language).roles;
  const { w } = app;
  /** One of those listed, by place, or somebody else: nobody is chosen beforehand. */
  const [chosen, setChosen] = createSignal<number | 'else' | null>(null);
  const [typed, setTyped] = createSignal('');
  const [typedRole, setTypedRole] = createSignal<Role | null>(null);
  const [meaning, setMeaning] = createSignal('');
  const gaps = createMemo(() =>
    app.content().ids.noteFields.filter((field) => valueOf(props.record, field).state === 'not-recorded'),
  );
  /** Each name once in each role, as they were listed. */
  const listed = createMemo(() => {
    const all = app.open()?.folded.case.context.people ?? [];
    const isSame = (one: Person, other: Person) => one.role === other.role && clean(one.who) === clean(other.who);
    return all.filter((one, place) => all.findIndex((other) => isSame(one, other)) === place);
  });
  const isTyped = () => chosen() === 'else' || listed().length === 0;
  createLayoutGuard(isTyped);
  const person = () => {
    const place = chosen();
    return typeof place === 'number' ? listed()[place] : undefined;
  };
  const who = () => (isTyped() ? typed() : (person()?.who ?? ''));
  const role = () => (isTyped() ? typedRole() : (person()?.role ?? null));
  const rolesOf = (name: string) => listed().flatMap((one) => (clean(one.who) === clean(name) ? [one.role] : []));
  /** Typed by hand, and no name that was listed. */
  const isUnlisted = () => isTyped() && typed().trim() !== '' && rolesOf(typed()).length === 0;
  const lacks = () =>
    who().trim() === ''
      ? w('record.who-first')
      : role() === null
        ? w('record.role-first')
        : meaning().trim() === ''
          ? w('record.meaning-first')
          : undefined;
  /** The rules it is signed under, and the words that are signed: those in English, where they are at hand. */
  const signedWords = (before: readonly Entry[]) => {
    const open = app.open();
    const { number: rules } = ruleVersions.current();
    const content = open && (loadContent(open.meta.contentVersion, 'en') ?? open.folded.content);
    if (!open || content?.phrases.language !== 'en') return { rules };
    return { rules, textHash: textHash(before, content, open.meta.format) };
  };
  const sign = async () => {
    const as = role();
    if (as === null) return;
    const words = { who: who().trim(), role: as, meaning: meaning().trim() };
    // What is written ahead of it is signed with the rest: that the log was taken up again, or goes on in a newer format.
    const signature = (before: readonly Entry[]) => ({ type: 'signed' as const, ...words, ...signedWords(before) });
    if (await props.recorder.record(signature)) props.onClose();
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
        <Show when={listed().length}>
          <Choice<number | 'else'>
            label={w('record.who')}
            options={[
              ...listed().map((one, value) => ({ value, label: clean(one.who), note: roleWord()[one.role] })),
              { value: 'else', label: w('record.somebody-else') },
            ]}
            value={chosen()}
            onChoose={setChosen}
          />
        </Show>
        <Show when={isTyped()}>
          <TextEntry
            label={w(listed().length ? 'record.name' : 'record.who')}
            value={typed()}
            rows={1}
            onInput={setTyped}
          />
          <p class="small soft">
            {rolesOf(typed()).length
              ? w('record.is-listed', {
                  roles: rolesOf(typed())
                    .map((as) => roleWord()[as])
                    .join(', '),
                })
              : w('record.is-typed')}
          </p>
          <Choice
            label={w('record.role')}
            options={roles.map((value) => ({ value, label: roleWord()[value] }))}
            value={typedRole()}
            onChoose={setTypedRole}
          />
        </Show>
        <TextEntry
          label={w('record.meaning')}
          value={meaning()}
          rows={1}
          offers={offers(w, 'record.offer.meaning')}
          onInput={(text) => setMeaning(oneValue(text, offers(w, 'record.offer.meaning')))}
        />
        <Twice
          label={w('record.sign')}
          question={w(isUnlisted() ? 'record.sign-question-typed' : 'record.sign-question', {
            who: who().trim(),
            role: role() === null ? '' : roleWord()[role() as Role],
          })}
          yes={w('record.sign-yes')}
          closed={lacks()}
          onYes={() => void sign()}
        />
      </div>
    </Sheet>
  );
}
