// A wait as a calendar file, for the phone's own alarm: one event that rings at its start.
// iCalendar [rfc5545]: lines end in CRLF and are at most 75 octets, texts are escaped.

/** `at`: when it is to ring, by the phone's clock. */
export function calendarFile(at: Date, summary: string, id: string, now: Date): string {
  const utc = (time: Date) => time.toISOString().replace(/[-:]|\.\d+/g, '');
  const text = summary.replace(/[\\;,]/g, '\\$&').replace(/\r?\n/g, '\\n');
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Drawoff//EN',
    'BEGIN:VEVENT',
    `UID:${id}`,
    `DTSTAMP:${utc(now)}`,
    `DTSTART:${utc(at)}`,
    'DURATION:PT5M',
    `SUMMARY:${text}`,
    'BEGIN:VALARM',
    'ACTION:DISPLAY',
    `DESCRIPTION:${text}`,
    'TRIGGER:PT0S',
    'END:VALARM',
    'END:VEVENT',
    'END:VCALENDAR',
    '',
  ]
    .map(folded)
    .join('\r\n');
}

function folded(line: string): string {
  const parts: string[] = [];
  let part = '';
  let octets = 0;
  for (const character of line) {
    const more = new TextEncoder().encode(character).length;
    if (octets + more > 75) {
      parts.push(part);
      part = ' ';
      octets = 1;
    }
    part += character;
    octets += more;
  }
  return [...parts, part].join('\r\n');
}
