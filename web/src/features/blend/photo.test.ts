import { expect, test } from 'vitest';
import { packed, unpacked } from './photo';

test('a photo comes back from its draft, byte by byte', () => {
  const bytes = Uint8Array.from({ length: 100_000 }, (_, i) => (i * 31) % 256).buffer;
  const photo = { sha256: 'a'.repeat(64), type: 'image/jpeg', bytes };
  expect(unpacked(packed(photo))).toEqual(photo);
});
