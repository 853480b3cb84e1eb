// The rooms of src/ are a stack: each includes only itself and those declared above it in
// CMakeLists.txt. Some pairs must not see each other at all.
import { files, lineOf, read, report } from './lib.mjs';

const apart = {
  plumbing: ['membrane'], // a tube knows no element; the machine joins them
  inference: ['machine'], // sees the machine only as a function
};
const rooms = [...read('CMakeLists.txt').matchAll(/^drawoff_room\((\w+)\)/gm)].map((m) => m[1]);

for (const file of files('src', /\.(h|cc)$/)) {
  const room = file.split('/')[1];
  if (room === 'data') continue;
  if (!rooms.includes(room)) {
    report(file, 1, `the room "${room}" is not declared in CMakeLists.txt`);
    continue;
  }
  const text = read(file);
  for (const include of text.matchAll(/^[ \t]*#[ \t]*include[ \t]*"([^"]+)"/gm)) {
    const [target] = include[1].split('/');
    const line = lineOf(text, include.index);
    if (include[1] === 'data/embedded.h') continue;
    if (!rooms.includes(target)) {
      report(file, line, `"${include[1]}" lies in no declared room (write "room/file.h")`);
    } else if (rooms.indexOf(target) > rooms.indexOf(room)) {
      report(file, line, `${room} may not include ${target}: it stands lower in the stack`);
    } else if (apart[room]?.includes(target)) {
      report(file, line, `${room} may not include ${target}: the two are kept apart`);
    }
  }
}
