// Fonts of further scripts for the papers: fetched when a paper asks for one, kept for offline use
// by the service worker from then on.
import { toBase64 } from '../../data/base64';

export interface ScriptFont {
  script: string; // ISO 15924
  regular: string; // base64
  bold: string;
}

export async function scriptFont(script: string): Promise<ScriptFont | undefined> {
  const [regular, bold] = await Promise.all([file(`${script}-Regular`), file(`${script}-Bold`)]);
  if (!regular) return undefined;
  return { script, regular, bold: bold ?? regular };
}
async function file(name: string): Promise<string | undefined> {
  const response = await fetch(`fonts/${name}.ttf`).catch(() => undefined);
  return response?.ok ? toBase64(new Uint8Array(await response.arrayBuffer())) : undefined;
}
