// Days as a person reads them.

const full = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric" });
const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });

/** "12 Nov 2026, 14:05" */
export function day(time: string | number): string {
  const date = new Date(time);
  if (Number.isNaN(date.getTime())) return "";
  return `${full.format(date)}, ${clock.format(date)}`;
}
