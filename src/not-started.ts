/** A start that failed before anything could be drawn: said in plain text, since the app itself is what is missing. */
import { wordsOf } from './device/failures.ts';
import type { Messages } from './format/messages.ts';

/**
 * Writes into the page that the app could not start, why, and a way to load it again: no case is open then.
 *
 * @param words of the device's language; may throw, as the content may be what failed
 */
export function showNotStarted(root: HTMLElement, error: unknown, words: () => Messages, reload: () => void): void {
  console.error(error);
  const say = (key: string, english: string) => {
    try {
      return words()(key);
    } catch {
      // The words themselves could not be had.
      return english;
    }
  };
  const line = (name: 'h1' | 'p' | 'button', text: string) => {
    const made = root.ownerDocument.createElement(name);
    made.textContent = text;
    return made;
  };
  const main = root.ownerDocument.createElement('main');
  main.className = 'unsaved';
  main.setAttribute('role', 'alert');
  const button = line('button', say('broken.load', 'Load the app again'));
  button.className = 'touch';
  button.addEventListener('click', reload);
  main.append(
    line('h1', say('broken.not-started', 'The app could not start')),
    line('p', say('broken.kept', 'The app has removed no case. If it fails again, leave this device as it is.')),
    line('p', wordsOf(error)),
    button,
  );
  root.replaceChildren(main);
}
