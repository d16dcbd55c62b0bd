/** Those who were listed and those who signed, as FHIR R4 resources. A name is all that is known of anybody. */
import { narrative, personName, words, type Shelf } from './fhir-parts.ts';
import type { RecordFacts, Signature } from './model.ts';

export const signerKey = (n: number): string => `signer:${n}`;

const textOf = (shelf: Shelf, text: string) => narrative(shelf.locale, [{ kind: 'text', text }]);

/** A Practitioner for each name in each role. One that is listed twice may be one person or two: it says so. */
export function addPeople(shelf: Shelf, { people, signatures }: RecordFacts): void {
  const names = shelf.locale.forms.fhir;
  const listed = new Map<string, RecordFacts['people']>();
  for (const one of people) {
    const key = personName(one.role, one.who);
    listed.set(key, [...(listed.get(key) ?? []), one]);
  }
  for (const [key, all] of listed) {
    const [{ role, who }] = all as [RecordFacts['people'][number]];
    const text = names.listed(
      who,
      shelf.locale.roles[role],
      all.map(({ n }) => n),
    );
    shelf.add(key, { resourceType: 'Practitioner', text: textOf(shelf, text), name: [{ text: who }] });
  }
  for (const signature of signatures) addSigner(shelf, signature, listed);
}

/** As whom somebody signed. Where the name was listed in that role it refers to the one listed, else to a name alone. */
function addSigner(
  shelf: Shelf,
  { n, who, role, standing, isListed }: Signature,
  listed: ReadonlyMap<string, unknown>,
) {
  const key = personName(role, who);
  const own = `${signerKey(n)}:person`;
  const isKnown = isListed && listed.has(key);
  const text = textOf(shelf, shelf.locale.forms.fhir.signer(who, shelf.locale.roles[role], standing));
  if (!isKnown) shelf.add(own, { resourceType: 'Practitioner', text, name: [{ text: who }] });
  shelf.add(signerKey(n), {
    resourceType: 'PractitionerRole',
    text,
    practitioner: shelf.refer(isKnown ? key : own, who),
    code: [words(shelf.locale.roles[role])],
  });
}
