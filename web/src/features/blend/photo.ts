// A photo that waits to be kept: as a draft, so that a page that is killed does not lose it.
import { fromBase64, toBase64 } from '../../data/base64';
import type { Photo } from '../../data/book';

export const packed = ({ sha256, type, bytes }: Photo): string =>
  JSON.stringify({ sha256, type, data: toBase64(new Uint8Array(bytes)) });

export function unpacked(draft: string): Photo {
  const { sha256, type, data } = JSON.parse(draft) as { sha256: string; type: string; data: string };
  return { sha256, type, bytes: fromBase64(data).buffer };
}
