/**
 * A plugin of the development server: it puts styles into the page as elements and tells of changes through a socket,
 * both of which the page's own content policy refuses. The built page keeps the policy as it stands.
 *
 * @returns {import('vite').Plugin}
 */
export const devPolicy = () => ({
  name: 'dev-policy',
  apply: 'serve',
  transformIndexHtml: (html) =>
    html
      .replace("style-src 'self'", "style-src 'self' 'unsafe-inline'")
      .replace("connect-src 'self'", "connect-src 'self' ws:"),
});
