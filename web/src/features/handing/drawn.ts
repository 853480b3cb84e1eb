// A signature drawn with a finger: lines of points on a pad three times as wide as it is high.
import { jpegOf } from '../../data/photos';
import type { Photo } from '../../data/book';

export const pad = { width: 900, height: 300 };
export type Point = [x: number, y: number]; // on the pad
export type Lines = Point[][];

/** Black on white, as it is printed. */
export function draw(canvas: HTMLCanvasElement, lines: Lines) {
  const on = canvas.getContext('2d')!;
  on.fillStyle = '#fff';
  on.fillRect(0, 0, pad.width, pad.height);
  on.strokeStyle = '#000';
  on.lineWidth = 7;
  on.lineCap = 'round';
  on.lineJoin = 'round';
  for (const line of lines) {
    on.beginPath();
    line.forEach(([x, y], i) => (i === 0 ? on.moveTo(x, y) : on.lineTo(x, y)));
    if (line.length === 1) on.lineTo(line[0]![0], line[0]![1]); // a dot
    on.stroke();
  }
}

export function pictureOf(lines: Lines): Promise<Photo> {
  const canvas = Object.assign(document.createElement('canvas'), pad);
  draw(canvas, lines);
  return jpegOf(canvas);
}

/** Lines as they are kept in a draft. */
export const asText = (lines: Lines) => (lines.length === 0 ? '' : JSON.stringify(lines));
export function fromText(text: string | undefined): Lines {
  try {
    return text ? (JSON.parse(text) as Lines) : [];
  } catch {
    return [];
  }
}
