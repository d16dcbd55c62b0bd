/** The page that is signed: what was done, what stays in, how the metal is accounted for, what is not recorded. */
import { item, items, text } from '../blocks.ts';
import { capital, sentence, some } from '../../format/prose.ts';
import { tourniquetLines } from '../items-log.ts';
import { offsetAt, type RecordLog } from '../log.ts';
import {
  isSaidToStay,
  recorded,
  notRecorded,
  type Block,
  type Page,
  type RecordFacts,
  type Section,
  type StillIn,
} from '../model.ts';
import { recordFileName } from '../file-name.ts';
import { timePicture } from '../when/picture.ts';
import { countDecidedBy } from '../sections-metal.ts';
import { accountTable } from './account.ts';

/**
 * Items of the colleges' list (RCS England, Good Surgical Practice 2014, all but the signature; Joint Commission
 * RC.02.01.03), by section of the record and id.
 */
const list: readonly (readonly [string, readonly string[]])[] = [
  ['times', ['date', 'work-started', 'work-ended']],
  ['team', ['surgeon', 'assistant', 'anaesthetist']],
  [
    'operation',
    [
      ...['urgency', 'procedure', 'incision', 'diagnosis', 'findings', 'complications', 'extra', 'tissue', 'implants'],
      ...['closure', 'blood-loss', 'antibiotic', 'dvt-prophylaxis', 'instructions', 'specimens', 'post-op-diagnosis'],
    ],
  ],
];

/** Items of that list that nobody entered, by their labels. */
export const missingItems = (sections: readonly Section[]): string[] =>
  list.flatMap(([id, ids]) =>
    (sections.find((section) => section.id === id)?.blocks ?? []).flatMap((block) =>
      block.kind === 'item' && ids.includes(block.id) && block.value.state === 'not-recorded' ? [block.label] : [],
    ),
  );

/** From when to when somebody worked, with the offsets: an hour that comes twice is told apart by them. */
function workLine(log: RecordLog, sections: readonly Section[]): string {
  const { day, firstPage } = log.locale;
  const at = (type: 'work-started' | 'work-ended') => {
    const told = log.of(type);
    const entry = type === 'work-started' ? told[0] : told.at(-1);
    return entry ? `${log.time(entry).replace(/:\d\d$/, '')} ${offsetAt(log.at(entry), log.zone)}` : null;
  };
  const minutes = sections
    .find(({ id }) => id === 'times')
    ?.blocks.find((block) => block.kind === 'item' && block.id === 'work-minutes');
  const lasted =
    minutes?.kind === 'item' && minutes.value.state === 'recorded' ? (minutes.value.lines[0] ?? null) : null;
  const from = at('work-started');
  return firstPage.work(
    log.date === null ? null : day(log.date),
    from,
    at('work-ended'),
    from === null ? null : lasted,
  );
}

/** Each time the cuff was up; of many the sum alone. */
function tourniquet(log: RecordLog): string[] {
  const lines = tourniquetLines(log);
  return lines.length > 2 ? lines.slice(-1) : lines;
}

function headSection(log: RecordLog, facts: RecordFacts, sections: readonly Section[]): Section {
  const { firstPage: words, sections: record } = log.locale;
  const { opened, folded } = log;
  const { stillIn, screws, openedAs, entries, seals } = facts;
  // What is not accounted for may be in or out: nobody said that it stays.
  const may = stillIn.filter((piece) => !isSaidToStay(piece)).map(({ what }) => what);
  const stays = stillIn.filter(isSaidToStay).map(({ what }) => what);
  const isKnown = screws.length > 0 || stays.length > 0;
  return {
    id: 'head',
    title: words.titles.head,
    blocks: [
      item('status', words.labels.status, some(record.head.statuses[facts.status], facts.signAgain)),
      item('case', words.labels.case, opened ? [facts.label] : []),
      ...(openedAs.length ? [item('opened-as', words.labels.openedAs, openedAs)] : []),
      item(
        'metal',
        words.labels.metal,
        opened
          ? [
              words.metal(
                capital(facts.construct),
                screws.length,
                opened.placedBy ?? null,
                opened.placedMonthsAgo ?? null,
              ),
            ]
          : [],
      ),
      item('work', words.labels.work, log.entries.length ? [workLine(log, sections)] : []),
      item('tourniquet', words.labels.tourniquet, tourniquet(log)),
      item('stays', words.labels.staysIn, stays.length ? stays : isKnown && !may.length ? [words.nothingStays] : []),
      ...(may.length ? [item('may-stay', words.labels.mayStay, may)] : []),
      item('log', words.labels.log, [
        words.log(
          entries,
          folded.late.length,
          folded.struck.length,
          folded.outOfOrder.length + folded.impossibleTimes.length + log.view.conflicts.length,
          words.seals[seals],
        ),
      ]),
    ],
  };
}

/** One piece that is still in, as one line. */
function pieceLine({ locale }: RecordLog, piece: StillIn): string {
  const { firstPage } = locale;
  const words = locale.sections.piece;
  const told = (value: string, line: (text: string) => string) => value !== locale.notRecorded && line(value);
  return sentence(
    some(
      capital(piece.what),
      piece.size,
      told(piece.material, (value) => value),
      told(piece.where, words.where),
      piece.place !== null && words.place(piece.place),
      isSaidToStay(piece) ? words.whyStays(piece.why) : firstPage.mayStay,
      isSaidToStay(piece) && words.decidedBy(piece.decidedBy),
      words.image(piece.image),
      words.told(piece.told),
    ).join('; '),
  );
}

function staysSection(log: RecordLog, { stillIn, screws }: RecordFacts): Section {
  const { firstPage, sections } = log.locale;
  const none = screws.length ? sections.staysIn.none : sections.staysIn.noneListed;
  return {
    id: 'stays-in',
    title: firstPage.titles.staysIn,
    blocks: stillIn.length
      ? [items(...stillIn.map((piece) => pieceLine(log, piece))), text(sections.staysIn.scan)]
      : [text(none)],
  };
}

function metalBlocks(log: RecordLog): Block[] {
  const { metal } = log.locale.sections;
  const table = accountTable(log);
  const counts = log
    .of('count-answered')
    .map((entry) => sentence(metal.count(log.time(entry), entry, countDecidedBy(log, entry))));
  return [
    table ?? text(log.locale.sections.noScrew),
    { kind: 'item', id: 'counts', label: metal.counts, value: counts.length ? recorded(...counts) : notRecorded },
  ];
}

/**
 * The page that is signed.
 *
 * @param sections the whole record: what of it nobody entered is named here, and how it was signed
 * @returns sections in a fixed order
 */
export function firstPage(log: RecordLog, facts: RecordFacts, sections: readonly Section[]): Page {
  const picture = timePicture(log, facts);
  const onScreen = timePicture(log, facts, 'screen');
  const { firstPage: words, notRecorded: silent, language } = log.locale;
  const side = facts.side === silent ? null : facts.side;
  const missing = missingItems(sections);
  const of = (id: string) => sections.filter((section) => section.id === id);
  const signature = of('signature').flatMap(({ blocks }) =>
    blocks.filter((block) => block.kind !== 'text' || block.text !== log.locale.sections.signature.unsigned),
  );
  return {
    title: words.title(side, facts.bone, facts.status === 'draft'),
    language,
    sections: [
      ...of('reckoned'),
      headSection(log, facts, sections),
      {
        id: 'done',
        title: words.titles.done,
        blocks: [text(facts.done.length ? facts.done.map((said) => said.text).join(' ') : sentence(words.noSentence))],
      },
      ...(picture && onScreen
        ? [
            {
              id: 'when',
              title: words.titles.when,
              blocks: [{ kind: 'picture' as const, picture, onScreen, file: recordFileName('picture', facts) }],
            },
          ]
        : []),
      staysSection(log, facts),
      { id: 'metal', title: words.titles.metal, blocks: metalBlocks(log) },
      // What is told of the bone as a whole: that it broke, or which level is the weakest.
      ...(facts.boneTold.whole.length
        ? [{ id: 'bone', title: log.locale.sections.titles.bone, blocks: [items(...facts.boneTold.whole)] }]
        : []),
      ...(facts.aftercare === null ? [] : of('aftercare')),
      {
        id: 'missing',
        title: words.titles.missing,
        blocks: [text(sentence(missing.length ? words.missing(missing) : words.nothingMissing))],
      },
      { id: 'signature', title: words.titles.signature, blocks: [...signature, text(words.signHere)] },
    ],
  };
}
