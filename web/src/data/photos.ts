// Photos: as small as still shows a plate, and named by what they hold.
import type { Photo } from './book';

const longestSide_px = 1600;
const quality = 0.82;

export async function sha256(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The picture as a JPEG of at most 1600 pixels a side; throws when the file is no picture. */
export async function takeIn(file: Blob): Promise<Photo> {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, longestSide_px / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext('2d')!.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return jpegOf(canvas);
}

/** What is drawn on a canvas, as a JPEG file. */
export async function jpegOf(canvas: HTMLCanvasElement): Promise<Photo> {
  const type = 'image/jpeg';
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, type, quality));
  if (!blob) throw new Error('no JPEG'); // not for people
  const bytes = await blob.arrayBuffer();
  return { sha256: await sha256(bytes), type, bytes };
}
