/**
 * Serves the built app from one process. `node src/tools/serve.mjs [--build]`; PORT (default 4173), HOST (default 127.0.0.1).
 * Plain http on this machine only: browsers allow a service worker there; anywhere else put it behind https.
 */
import { createReadStream, existsSync, realpathSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, resolve, sep } from 'node:path';
import { pipeline } from 'node:stream';
import { pathToFileURL } from 'node:url';

const root = resolve(import.meta.dirname, '../..');

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
};

/** What a page of the app may do; `src/index.html` carries the same, less `frame-ancestors`, which a meta tag cannot say. */
export const policy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const fixedHeaders = {
  'Content-Security-Policy': policy,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'geolocation=(), microphone=(), camera=(), payment=(), screen-wake-lock=(self)',
};

/**
 * Serves one folder, read only.
 * @param {string} dir the folder
 * @param {number} port 0 for any free one
 * @param {string} [host]
 * @returns {Promise<{ url: string, port: number, close: () => Promise<void> }>} rejects when the port is taken (EADDRINUSE).
 *   Worked result: `(await serve('dist', 4173)).url` is `http://localhost:4173/`.
 */
export async function serve(dir, port, host = '127.0.0.1') {
  const base = realpathSync(dir);
  const server = createServer((request, response) => answer(base, request, response));
  await new Promise((done, fail) => server.once('error', fail).listen(port, host, done));
  const taken = server.address().port;
  const shown = host === '127.0.0.1' ? 'localhost' : host.includes(':') ? `[${host}]` : host;
  const close = () => {
    const closed = new Promise((done) => server.close(() => done()));
    server.closeAllConnections();
    return closed;
  };
  return { url: `http://${shown}:${taken}/`, port: taken, close };
}

function answer(base, request, response) {
  const refuse = (status, words) => {
    response.writeHead(status, { ...fixedHeaders, 'Content-Type': types['.txt'], 'Cache-Control': 'no-store' });
    response.end(request.method === 'HEAD' ? undefined : `${words}\n`);
  };
  if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(405, 'Only GET and HEAD');
  const path = decode(request.url);
  if (path === null) return refuse(400, 'Not a path');
  if (path.split(/[/\\]/).includes('..')) return refuse(403, 'Outside the app');
  const wanted = join(base, path.endsWith('/') ? `${path}index.html` : path);
  if (!existsSync(wanted)) return refuse(404, 'Not found');
  const file = realpathSync(wanted);
  if (!file.startsWith(base + sep)) return refuse(403, 'Outside the app');
  const stat = statSync(file);
  if (!stat.isFile()) return refuse(404, 'Not found');
  response.writeHead(200, {
    ...fixedHeaders,
    'Content-Type': types[extname(file)] ?? 'application/octet-stream',
    'Content-Length': stat.size,
    'Cache-Control': cacheFor(path),
  });
  if (request.method === 'HEAD') return response.end();
  // `pipe` would leave the file open when the other end goes away; a pipeline ends both, whichever of them fails.
  pipeline(createReadStream(file), response, () => {});
}

/** The path of a request, or null when it is not one. */
function decode(url) {
  try {
    const path = decodeURIComponent(url.split(/[?#]/, 1)[0]);
    return path.startsWith('/') && !path.includes('\0') ? path : null;
  } catch {
    return null;
  }
}

/** Names under /assets/ carry their content's hash and never change; all else is asked for again, above all the service worker. */
function cacheFor(path) {
  return path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache';
}

async function main() {
  endWithParent();
  if (process.argv.includes('--build')) {
    const { build } = await import('vite');
    await build({ configFile: join(root, 'src/vite.config.ts'), logLevel: 'warn' });
  }
  const dist = join(root, 'dist');
  if (!existsSync(join(dist, 'index.html'))) throw new Error('There is no built app yet: npm run build');
  const wanted = Number(process.env.PORT || 4173);
  if (!Number.isInteger(wanted) || wanted < 0 || wanted > 65535)
    throw new Error(`PORT is not a port: ${process.env.PORT}`);
  const server = await firstFree(dist, wanted);
  console.log(`Counterturn is at ${server.url}  (Ctrl+C ends it)`);
  for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => server.close().then(() => process.exit(0)));
}

/** npm hands a signal to the shell between it and this process; the shell dies of it without passing it on. */
function endWithParent() {
  if (!process.env.npm_lifecycle_event) return;
  const parent = process.ppid;
  setInterval(() => process.ppid !== parent && process.exit(0), 500).unref();
}

async function firstFree(dist, wanted) {
  for (let port = wanted; ; port++) {
    try {
      return await serve(dist, port, process.env.HOST || undefined);
    } catch (error) {
      if (error.code !== 'EADDRINUSE' || port >= wanted + 20 || port >= 65535) throw error;
      console.log(`Port ${port} is busy, trying ${port + 1}`);
    }
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  main().catch((error) => {
    console.error(error.message ?? error);
    process.exit(1);
  });
}
