import { languageName, languages } from '../../../content/languages.ts';
import { saveSettings } from '../../device/settings.ts';
import { Choice } from '../../parts/Choice.tsx';
import { useApp } from '../app.ts';

/** The language of this device. The page loads again with it, so not while a case is open. */
export function LanguageChoice() {
  const app = useApp();
  const { w } = app;
  const spoken = () => app.content().phrases.language;
  return (
    <>
      <Choice
        label={w('language.title')}
        options={languages().map((value) => ({
          value,
          label: languageName(value),
          closed: app.open() && value !== spoken() ? w('language.in-case') : undefined,
        }))}
        value={languages().find((value) => value === spoken()) ?? null}
        onChoose={(language) => {
          if (language !== spoken() && saveSettings({ language })) location.reload();
        }}
      />
      <p class="small">{w('language.help')}</p>
    </>
  );
}
