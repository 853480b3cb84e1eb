// Bytes as text, and back.
const piece = 0x8000; // as many bytes as may be the arguments of one call

export function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += piece) text += String.fromCharCode(...bytes.subarray(i, i + piece));
  return btoa(text);
}
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}
