/** How the table looks by the second ladder: a style sheet that comes with its script, so that no start carries it. */
import rules from './second.css?inline';

if (typeof document !== 'undefined' && 'adoptedStyleSheets' in document) {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(rules);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
