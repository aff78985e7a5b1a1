import { dateAfter } from '../batch/types/time.ts';
/** One entry of a calendar; times are those of the kitchen clock, of no time zone. */
export interface CalendarEntry {
  /** Unique within the calendar and the same at every build. */
  readonly name: string;
  readonly summary: string;
  readonly description: string;
  /** `2026-02-14`; with a clock time it is an hour of that day, else the whole day. */
  readonly date: string;
  readonly clock: string | null;
  /** End, for an hour of a day. */
  readonly until: { readonly date: string; readonly clock: string } | null;
}

export interface CalendarHead {
  readonly slug: string;
  readonly title: string;
  /** Of the site, for identifiers that nobody else has. */
  readonly host: string;
  /** When the plan was made, as far as a calendar is concerned: the brewing day, so that bytes are stable. */
  readonly stamp: string;
}

/** Octets that a line may have, its end not counted (RFC 5545, 3.1). */
const LONGEST_LINE = 75;

/**
 * An iCalendar file (RFC 5545): one VEVENT an entry, each with a reminder. Lines end in CR LF and are folded at 75 octets
 * between characters (3.1); text is escaped (3.3.11); days are DATE values with an exclusive end, times are floating (3.3.5).
 */
export function calendarText(head: CalendarHead, entries: readonly CalendarEntry[]): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Kettleside//Kettleside//EN',
    'CALSCALE:GREGORIAN',
    ...entries.flatMap((entry) => eventLines(head, entry)),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}

function eventLines({ slug, host, stamp }: CalendarHead, entry: CalendarEntry): readonly string[] {
  const description = entry.description === '' ? [] : [`DESCRIPTION:${escapedText(entry.description)}`];
  return [
    'BEGIN:VEVENT',
    `UID:${slug}-${entry.name}@${host}`,
    `DTSTAMP:${plainDate(stamp)}T000000Z`,
    ...spanLines(entry),
    `SUMMARY:${escapedText(entry.summary)}`,
    ...description,
    'BEGIN:VALARM',
    'ACTION:DISPLAY',
    `DESCRIPTION:${escapedText(entry.summary)}`,
    // Nine in the morning of a day; a quarter of an hour before an hour.
    `TRIGGER:${entry.clock === null ? 'PT9H' : '-PT15M'}`,
    'END:VALARM',
    'END:VEVENT',
  ];
}

function spanLines({ date, clock, until }: CalendarEntry): readonly string[] {
  if (clock === null) {
    return [
      `DTSTART;VALUE=DATE:${plainDate(date)}`,
      `DTEND;VALUE=DATE:${plainDate(dateAfter(date, 1))}`,
      'TRANSP:TRANSPARENT',
    ];
  }
  const start = `DTSTART:${plainDate(date)}T${plainClock(clock)}`;
  return until === null ? [start] : [start, `DTEND:${plainDate(until.date)}T${plainClock(until.clock)}`];
}

const plainDate = (date: string): string => date.replaceAll('-', '');
const plainClock = (clock: string): string => `${clock.padStart(5, '0').replace(':', '')}00`;

/** TEXT of RFC 5545, 3.3.11; control characters that it has no place for become spaces. */
function escapedText(text: string): string {
  return (
    text
      .replaceAll(/\r\n?/g, '\n')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
      .replaceAll(/[\u0000-\u0009\u000b-\u001f\u007f]/g, ' ')
      .replaceAll(/[\\;,]/g, (sign) => `\\${sign}`)
      .replaceAll('\n', '\\n')
  );
}

/** Octets of a character in UTF-8 (RFC 3629, 3). */
const octetsOf = (point: number): number => (point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4);

/** A line in pieces of at most 75 octets, no character cut; each piece after the first begins with a space. */
function folded(line: string): string {
  const pieces: string[] = [];
  let piece = '';
  let octets = 0;
  for (const sign of line) {
    const size = octetsOf(sign.codePointAt(0) ?? 0);
    if (octets + size > LONGEST_LINE) {
      pieces.push(piece);
      piece = ' ';
      octets = 1;
    }
    piece += sign;
    octets += size;
  }
  return [...pieces, piece].join('\r\n');
}

/** Date and clock some minutes after others; midnight may pass. */
export function minutesAfter(
  date: string,
  clock: string,
  minutes: number,
): { readonly date: string; readonly clock: string } {
  const at = Date.parse(`${date}T${clock.padStart(5, '0')}:00Z`) + Math.round(minutes) * 60_000;
  const text = new Date(at).toISOString();
  return { date: text.slice(0, 10), clock: text.slice(11, 16) };
}
