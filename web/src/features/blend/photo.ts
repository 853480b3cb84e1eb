// A photo that waits to be kept: as a draft, so that a page that is killed does not lose it.
import type { Photo } from '../../data/book';

const chunk = 0x8000; // bytes at once: a call takes only so many arguments

export function packed({ sha256, type, bytes }: Photo): string {
  const all = new Uint8Array(bytes);
  let text = '';
  for (let i = 0; i < all.length; i += chunk) text += String.fromCharCode(...all.subarray(i, i + chunk));
  return JSON.stringify({ sha256, type, data: btoa(text) });
}

export function unpacked(draft: string): Photo {
  const { sha256, type, data } = JSON.parse(draft) as { sha256: string; type: string; data: string };
  return { sha256, type, bytes: Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0)).buffer };
}
