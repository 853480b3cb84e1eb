import { mount } from 'svelte';
import './app.css';
import App from './App.svelte';
import { EngineError } from './engine/bridge';
import { install } from './features/settings/shell.svelte';
import { showDemoTown } from './features/sites/import';
import { route } from './route.svelte';
import { start } from './session.svelte';

await start();
// The first screen needs no site: there the demo town waits until it stands.
if (route.screen) await showDemoTown();
const target = document.getElementById('app')!;
target.replaceChildren();
mount(App, { target });
if (!route.screen) setTimeout(showDemoTown, 1000);
// Told on the screen already (session.svelte.ts).
addEventListener('unhandledrejection', (event) => {
  if (event.reason instanceof EngineError && event.reason.kind === 'broken') event.preventDefault();
});
void install();
