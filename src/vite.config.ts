import { resolve } from 'node:path';
import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import solid from 'vite-plugin-solid';
import { devPolicy } from './tools/dev-policy.mjs';
import { notices } from './tools/notices.mjs';
import { startScript } from './tools/start-script.mjs';

const start = startScript();
const shipped = notices();

const ink = '#12181f';
const icon = (size: number, purpose: 'any' | 'maskable') => ({
  src: `icon-${size}.png`,
  sizes: `${size}x${size}`,
  type: 'image/png',
  purpose,
});

export default defineConfig({
  root: import.meta.dirname,
  // Relative, so that the built folder works under any path.
  base: './',
  plugins: [
    start.plugin,
    shipped.plugin,
    devPolicy(),
    // As objects, not markup: the content policy refuses style attributes. The option is missing from the plugin's types.
    solid({ solid: { inlineStyles: false } as object }),
    VitePWA({
      // Nothing takes over or reloads by itself: a new version waits until the app asks it in, with no case open.
      registerType: 'prompt',
      injectRegister: null,
      includeManifestIcons: false,
      manifest: {
        id: './',
        name: 'Counterturn',
        short_name: 'Counterturn',
        description: "Removing screws that won't come: the way up the ladder, what it costs in bone, and the record.",
        lang: 'en',
        start_url: './',
        scope: './',
        display: 'standalone',
        orientation: 'landscape',
        background_color: ink,
        theme_color: ink,
        icons: [icon(192, 'any'), icon(512, 'any'), icon(192, 'maskable'), icon(512, 'maskable')],
      },
      workbox: {
        globPatterns: ['**/*'],
        globIgnores: ['sw.js', 'manifest.webmanifest', '**/*.map'],
        maximumFileSizeToCacheInBytes: 20_000_000,
        // One whole version at a time: old caches go only when the new worker takes over.
        cleanupOutdatedCaches: true,
        skipWaiting: false,
        clientsClaim: false,
        navigateFallback: 'index.html',
        inlineWorkboxRuntime: true,
        sourcemap: false,
      },
    }),
  ],
  build: {
    outDir: resolve(import.meta.dirname, '../dist'),
    emptyOutDir: true,
    target: 'es2022',
    // The content policy lets no font or script in as a data: address.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    // One style sheet, whatever its order of arrival would be.
    cssCodeSplit: false,
    rolldownOptions: { output: { codeSplitting: { groups: [{ name: 'start', test: start.isOfStart }] } } },
  },
  worker: { format: 'es', plugins: () => [shipped.ofThread()] },
});
