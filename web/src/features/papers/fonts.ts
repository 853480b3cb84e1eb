// Fonts of further scripts for the papers: fetched when a paper asks for one, kept for offline use
// by the service worker from then on.
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

const piece = 0x8000; // as many bytes as may be the arguments of one call
export function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += piece) text += String.fromCharCode(...bytes.subarray(i, i + piece));
  return btoa(text);
}
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}
