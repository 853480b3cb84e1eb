import { svelte } from '@sveltejs/vite-plugin-svelte';
import type { Plugin } from 'vite';
import words from './generated/words/en.json';
import { defineConfig } from 'vitest/config';

// The same as the server's header, for hosts that send none. Not while developing: the development
// server puts styles into the page itself.
const policy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

// What stands on the page until the app starts, and stays where it cannot.
const boot: Plugin = {
  name: 'boot-words',
  transformIndexHtml: (html) => html.replace('%BOOT%', words['app.boot']),
};

const contentSecurity: Plugin = {
  name: 'content-security',
  apply: 'build',
  transformIndexHtml: () => [
    { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: policy }, injectTo: 'head-prepend' },
  ],
};

export default defineConfig({
  base: './', // any folder of any host
  plugins: [svelte(), boot, contentSecurity],
  worker: { format: 'es' },
  build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false }, reportCompressedSize: false },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
});
