/** A third language, which nobody speaks: fetched only when it is asked for, English where it lacks something. */
import { describe, expect, it, vi } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { addLanguage, languageName, languages, loadLanguage } from '../../content/languages.ts';
import { offeredReason } from '../../content/reasons.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import type { LanguageFiles } from '../../content/words/language-files.ts';
import { run } from '../../src/commands.ts';
import { languageOf } from '../../src/device/language.ts';
import { locale as english } from '../../src/record/locales/en/index.ts';
import { addLocale, loadLocale, localeOf } from '../../src/record/locales/index.ts';
import { isInvented } from '../../src/session/demo.ts';
import { fileWith } from '../cli/files.ts';
import { Log } from '../machines/build.ts';
import { inventedFile, knownFile } from './cases.ts';
import { inventedVersion } from './invented.ts';

const words = vi.fn(() => Promise.resolve({ 'language.title': 'Xlanguagex' }));
const release = vi.fn(() =>
  Promise.resolve({
    phrases: {
      moves: { 'turn-out': { label: 'Xturn it outx' } },
      outcomes: { slipped: { sentence: 'xslippedx {screw}' } },
    },
    trade: { orderStatus: 'Xorderx' },
  }),
);
const pseudo: LanguageFiles = {
  name: 'Pseudo',
  invented: 'XINVENTEDX',
  reasons: { 'leave.reason.deep': 'xtoo deepx' },
  words,
  releases: { [currentVersion]: release },
};
addLanguage('xx', pseudo);
addLocale('xx', { ...english, screw: (id: string) => `xscrewx ${id}` });

const own = loadContent(currentVersion) as Content;

describe('a third language', () => {
  it('is listed after the others, by the name it calls itself', () => {
    expect(languages()).toEqual(['en', 'de', 'xx']);
    expect(languages().map(languageName)).toEqual(['English', 'Deutsch', 'Pseudo']);
    expect(() => addLanguage('xx', pseudo)).toThrow(/already/);
    expect(languageOf(null, ['fr', 'xx-YY'])).toBe('xx');
    expect(languageOf('xx', [])).toBe('xx');
    expect(languageOf('yy', [])).toBe('en');
  });

  it('costs nothing until it is spoken', async () => {
    expect(loadContent(currentVersion, 'xx')).toBe(own);
    await loadLanguage('en');
    expect([words.mock.calls.length, release.mock.calls.length]).toEqual([0, 0]);
  });

  it('is fetched once, and no other with it', async () => {
    await Promise.all([loadLanguage('xx'), loadLanguage('xx')]);
    await loadLanguage('xx');
    expect([words.mock.calls.length, release.mock.calls.length]).toEqual([1, 1]);
    expect(loadContent(currentVersion, 'de')).toBe(own);
    expect(localeOf('de')).toBe(localeOf('en'));
  });

  it('is what content is told in, English what it has no words for', () => {
    const told = loadContent(currentVersion, 'xx') as Content;
    expect(told.phrases.language).toBe('xx');
    expect(told.phrases.words['language.title']).toBe('Xlanguagex');
    expect(told.phrases.moves['turn-out'].label).toBe('Xturn it outx');
    expect(told.orderStatus).toBe('Xorderx');
    expect(told.phrases.moves['reseat-driver']).toEqual(own.phrases.moves['reseat-driver']);
    expect(loadContent(currentVersion, 'xx')).toBe(told);
    expect(loadContent(currentVersion)).toBe(own);
  });

  it('says the words of the screens over a release that it has no words for', () => {
    const told = loadContent(inventedVersion, 'xx') as Content;
    expect(told.phrases.words['language.title']).toBe('Xlanguagex');
    expect(told.phrases.moves['turn-out']).toEqual(own.phrases.moves['turn-out']);
  });

  it('is known again in a case that was written in it, though nobody speaks it here', () => {
    expect(offeredReason('xtoo deepx')).toBe('deep');
    expect(offeredReason('zu tief zum Fassen')).toBe('deep');
    expect(isInvented(new Log().opened({ label: 'XINVENTEDX case' }).entries)).toBe(true);
    expect(isInvented(new Log().opened({ label: 'Room 4' }).entries)).toBe(false);
  });

  it('is asked for again when it could not be had', async () => {
    const lost = vi.fn(() => Promise.reject(new Error('gone')));
    addLanguage('yy', { ...pseudo, words: lost });
    await expect(loadLanguage('yy')).rejects.toThrow('gone');
    await expect(loadLanguage('yy')).rejects.toThrow('gone');
    expect(lost).toHaveBeenCalledTimes(2);
    expect(loadContent(currentVersion, 'yy')).toBe(own);
  });

  it('is refused as a whole when it breaks a rule of the phrases', async () => {
    const long = () =>
      Promise.resolve({ phrases: { stages: { seated: { glance: 'far too long for a label' } } }, trade: {} });
    addLanguage('zz', { ...pseudo, releases: { [currentVersion]: long } });
    await expect(loadLanguage('zz')).rejects.toThrow('sixteen letters');
    expect(loadContent(currentVersion, 'zz')).toBe(own);
  });
});

describe('the record', () => {
  it('speaks a language once its locale is there, and the one of its folder by its code', async () => {
    expect(localeOf('xx').screw('3')).toBe('xscrewx 3');
    await loadLocale('de');
    expect(localeOf('de').screw('3')).toBe('Schraube 3');
    await expect(loadLocale('nowhere')).rejects.toThrow();
    expect(localeOf('nowhere')).toBe(localeOf('en'));
  });

  it.each([
    ['a known case', () => knownFile()],
    ['a case of another release', () => inventedFile()],
  ])('note --lang tells %s in it', async (_, make) => {
    const file = fileWith(make());
    const { status, stdout } = await run(['note', file, '--as', 'text', '--lang', 'xx']);
    expect(status).toBe(0);
    expect(stdout).toContain('xscrewx 1');
    const german = (await run(['note', file, '--as', 'text', '--lang', 'de'])).stdout;
    expect(german).toContain('Schraube 1');
    expect(german + stdout).not.toContain('undefined');
    expect(await run(['note', file, '--as', 'text', '--lang', 'nowhere'])).toMatchObject({
      status: 2,
      stderr: '--lang: expected one of en, de, xx, yy, zz\n',
    });
  });
});
