/** The app in a browser: devices, the log on disk, the session, the screens. */
import { createSignal, ErrorBoundary } from 'solid-js';
import { render } from 'solid-js/web';
import { contentVersions } from '../content/catalog.ts';
import { deferred } from './deferred.ts';
import type { Failure } from './failure.ts';
import { now, ownZone, watchJumps } from './device/clock.ts';
import { watchFailures } from './device/failures.ts';
import { watchPainting } from './device/heartbeat.ts';
import { languageOf } from './device/language.ts';
import { speakLanguage } from './language.ts';
import { upkeep } from './device/quiet.ts';
import { readSettings, saveSettings } from './device/settings.ts';
import { type Claim, claimWriter, holderId, openLine, whenWriterGone } from './device/single-writer.ts';
import { askToPersist, type Kept } from './device/storage.ts';
import { watchUpdates } from './device/update.ts';
import { openKeyStore } from './store/encrypted/key-store.ts';
import { keepAwake } from './device/wake-lock.ts';
import { prefetch } from './store/prefetch.ts';
import { openDatabase } from './store/indexeddb/log.ts';
import { openJournal } from './store/opfs/journal.ts';
import { openMirroredLog } from './store/mirrored-log.ts';
import type { CaseMeta, StoredRow } from './store/port.ts';
import { App, Cases } from './screens/App.tsx';
import { Broken } from './screens/Broken.tsx';
import type { Preferences } from './screens/app.ts';
import { showNotStarted } from './not-started.ts';
import { failureWords, startWords } from './screens/failure-words.ts';
import { department } from './session/department.ts';
import { createSession, openAhead, type Told } from './session/session.ts';
import { createPrivacy } from './session/privacy.ts';
import { messagesOf } from './format/messages.ts';
import { openVault } from './store/encrypted/vault.ts';
import './fonts.css';
import './theme.css';

/** Without a word from the first window for so long, a following window says that it is out of date. */
const silentAfterMs = 2500;
const beatMs = 1000;
/** A failure stays in words on the screen for so long. */
const failedForMs = 120_000;
/** Other windows are told once the finger's own window is drawn, all of it equally late, so that the order stays. */
const tellAfterMs = 50;

const preferencesOf = ({ theme, pixelsPerMm, distance }: ReturnType<typeof readSettings>): Preferences => ({
  theme,
  pxPerMm: pixelsPerMm,
  distance,
});

/** The shipped font before anything is drawn, so that nothing moves when it comes; never waits longer than a second. */
const fonts = (): Promise<unknown> => {
  const face = (weight: number) => document.fonts.load(`${weight} 1em 'Atkinson Hyperlegible Next'`);
  const late = new Promise((done) => setTimeout(done, 1000));
  // Without the shipped font another one is drawn.
  return Promise.race([Promise.all([face(400), face(700)]), late]).catch(() => undefined);
};

/** The language settled on at the first run; English when the words of another cannot be had. */
async function speakOwn(): Promise<void> {
  const chosen = readSettings().language;
  const language = languageOf(chosen, navigator.languages);
  if (chosen === null) saveSettings({ language });
  try {
    await speakLanguage(language);
    document.documentElement.lang = language;
  } catch {
    // English is built in: a case can be worked in it, and the next start asks again.
  }
}

/** The releases that come after the first screen. */
const laterReleases = deferred(async () => (await import('../content/later.ts')).fetchReleases());

async function start(): Promise<void> {
  const drawn = fonts();
  const spoken = speakOwn();
  const wall = location.hash === '#wall';
  let claim: Claim | null = null;
  /** Does this window hold the cases now? */
  const holds = () => claim?.holds() === true;
  let ownId: string | undefined;
  const journal = openJournal<StoredRow>({ writer: holds, holder: () => ownId, early: true });
  if (!wall) claim = await claimWriter();
  // An address that is not secure has no random ids, and no case is begun there.
  const token = window.isSecureContext ? crypto.randomUUID() : '';
  const database = openDatabase<StoredRow>({ holder: () => (holds() ? token : null) });
  const startsAsWriter = holds();
  const [writer, setWriter] = createSignal(startsAsWriter);
  if (startsAsWriter) {
    void holderId().then((id) => (ownId = id));
    // Not waited for: what is read afterwards stands behind it. Where it is refused, the first write claims.
    void database.claim().catch(() => {});
  }
  const vault = await openVault({
    copies: { database: prefetch(database), journal: prefetch(journal) },
    store: openKeyStore({ half: journal }),
    writer: holds,
  });
  let openStored: ReturnType<typeof openAhead> | undefined;
  const opened = await openMirroredLog(vault.copies, {
    writer: startsAsWriter,
    // Folding a long case takes about as long as the journal's thread takes to read it.
    // What fails ahead of time fails again, and is then shown, when the case itself is opened.
    ...(startsAsWriter && {
      whileWaiting: (cases) =>
        void spoken.then(() => (openStored = openAhead(cases))).catch(() => (openStored = undefined)),
    }),
  });
  await spoken;
  // A case of a release that comes later waits for it; one that cannot be had reads as one that this build lacks.
  const isThere = ({ meta }: { meta: CaseMeta }) =>
    contentVersions().includes((meta.overlay as { base?: string } | undefined)?.base ?? meta.contentVersion);
  if (!opened.cases.every(isThere)) await laterReleases.load().catch(() => undefined);

  const [preferences, setPreferences] = createSignal(preferencesOf(readSettings()));
  const [device, setDevice] = createSignal(readSettings());
  const [storage, setStorage] = createSignal<Kept>('unknown');
  const [update, setUpdate] = createSignal<(() => void) | null>(null);
  const [notOffline, setNotOffline] = createSignal<Failure | null>(null);
  const [gap, setGap] = createSignal<number | null>(null);
  const [failed, setFailed] = createSignal<string | null>(null);
  let failedUntil: ReturnType<typeof setTimeout> | undefined;
  const [asleep, setAsleep] = createSignal<string | null>(null);
  const [silentSince, setSilentSince] = createSignal<string | null>(null);
  const zone = () => session.open()?.folded.case.context.room.opened?.zone ?? ownZone();

  let lastWord = performance.now();
  const line = openLine<Told>((message) => {
    if (holds()) return;
    lastWord = performance.now();
    setSilentSince(null);
    void follow(message);
  });
  const tell = (message: Told) => void setTimeout(() => holds() && line.post(message), tellAfterMs);
  const session = createSession({
    log: opened.log,
    stored: opened.cases,
    now: () => now(zone()),
    newId: () => crypto.randomUUID(),
    pin: () => department().pin(),
    device: () => words()('resumed.device', { width: screen.width, height: screen.height }),
    ...(openStored && { openStored }),
    tell,
    holds,
  });
  const privacy = createPrivacy({
    vault,
    session,
    report: opened.report,
    writer: holds,
    newId: () => crypto.randomUUID(),
    idleMinutes: () => device().idleMinutes,
  });
  const settle = (change: Parameters<typeof saveSettings>[0]) => {
    saveSettings(change);
    setDevice((before) => ({ ...before, ...change }));
  };

  let reading = false;
  /** Reads the case from disk again; one reading at a time, and never back to fewer entries than are shown. */
  async function reread(caseId: string): Promise<void> {
    if (reading) return;
    reading = true;
    const stored = await opened.log.list().finally(() => (reading = false));
    const found = stored.find(({ meta }) => meta.caseId === caseId) ?? null;
    const current = session.open();
    const shown = current?.meta.caseId === caseId ? current.entries.length : 0;
    if (!found || found.entries.length >= shown) session.follow(found);
  }
  async function follow(message: Told): Promise<void> {
    const current = session.open();
    if (message.kind === 'entry')
      return session.followEntry(message.meta, message.entry) ? undefined : reread(message.meta.caseId);
    if (message.kind === 'opened') return reread(message.meta.caseId);
    if (message.kind === 'left' || message.caseId === null) return session.follow(null);
    if (current?.meta.caseId !== message.caseId || current.entries.length !== message.entries)
      return reread(message.caseId);
  }

  /** From now on this window shows what another one records, until no window writes any more. */
  const showOnly = () => {
    lastWord = performance.now();
    setInterval(() => {
      const silent = performance.now() - lastWord;
      if (silent > silentAfterMs && silentSince() === null)
        setSilentSince(now(zone(), Date.now() - silent).slice(11, 19));
    }, 500);
    if (!wall) whenWriterGone(() => location.reload());
  };
  if (startsAsWriter) {
    setInterval(() => {
      const current = session.open();
      tell({ kind: 'beat', caseId: current?.meta.caseId ?? null, entries: current?.entries.length ?? 0 });
    }, beatMs);
    const unfinished = session.unfinished();
    if (unfinished) session.resume(unfinished);
    privacy.watch();
    upkeep(() => database.gather());
    watchJumps(({ seconds, maybeSlept }) => {
      if (!holds() || maybeSlept) return;
      if (session.open()) void session.record({ type: 'clock-jumped', seconds });
      else session.clockMoved();
    });
    claim?.onLost(() => {
      setWriter(false);
      // Its files are let go, so that the window that writes now can open them.
      void journal.close();
      showOnly();
    });
  } else showOnly();
  const words = () => messagesOf(department().content());
  watchFailures((reason) => {
    const time = now(zone()).slice(11, 19);
    const count = session.open()?.entries.length;
    const onDisk = count === undefined ? [] : [words()('broken.on-disk', { count })];
    setFailed([words()('broken.failed', { time, reason }), ...onDisk].join(' '));
    clearTimeout(failedUntil);
    failedUntil = setTimeout(() => setFailed(null), failedForMs);
  });
  privacy.watchIdle();
  askToPersist(setStorage);
  watchPainting(({ seconds, hidden }) => {
    if (hidden && seconds < 60) return;
    setGap(seconds);
    setTimeout(() => setGap(null), 30_000);
  });
  const updates = watchUpdates(() => setUpdate(() => () => void updates.apply()), setNotOffline);

  let release: (() => void) | null = null;
  const awake = (wanted: boolean) => {
    if (wanted && !release) release = keepAwake(({ held, why }) => setAsleep(held || !why ? null : 'app.may-sleep'));
    else if (!wanted) {
      release?.();
      release = null;
      setAsleep(null);
    }
  };

  // What cannot be had says so in its place, and is asked for again there.
  if (!session.open()) await Cases.load().catch(() => undefined);
  await drawn;
  render(
    () => (
      <ErrorBoundary
        fallback={(error, again) => (
          <Broken error={error} w={words()} entries={session.open()?.entries.length ?? null} again={again} />
        )}
      >
        <App
          session={session}
          writer={writer}
          wall={wall}
          nowMs={() => Date.now()}
          preferences={preferences}
          prefer={(change) => {
            const next = { ...preferences(), ...change };
            saveSettings({ theme: next.theme, pixelsPerMm: next.pxPerMm, distance: next.distance });
            setPreferences(next);
          }}
          startTold={() => {
            const w = words();
            const insecure: Failure[] = isSecureContext ? [] : [{ code: 'not-secure' }];
            const others = [notOffline(), privacy.keysFailure()].filter((one) => one !== null);
            const told = (failures: readonly Failure[]) => failures.map((one) => failureWords(w, one));
            return [...told(insecure), ...startWords(w, privacy.report()), ...told(others)];
          }}
          update={update}
          storage={storage}
          silentSince={silentSince}
          gap={gap}
          awake={awake}
          awakeTold={asleep}
          privacy={{
            ...privacy,
            idleMinutes: () => device().idleMinutes,
            setIdleMinutes: (idleMinutes) => settle({ idleMinutes }),
            retentionMonths: () => device().retentionMonths,
            setRetentionMonths: (retentionMonths) => settle({ retentionMonths }),
          }}
          failed={failed}
          secure={isSecureContext}
        />
      </ErrorBoundary>
    ),
    root(),
  );
}

const root = () => document.getElementById('app') as HTMLElement;
start().catch((error: unknown) =>
  showNotStarted(
    root(),
    error,
    () => messagesOf(department().content()),
    () => location.reload(),
  ),
);
