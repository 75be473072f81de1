// Times and stretches of time as a person reads them.

/** A time of the clock of the shop: "17 October, 10:30". */
export function spokenTime(at: string): string {
  const date = new Date(`${at}:00`);
  if (Number.isNaN(date.getTime())) return at;
  const day = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "long" }).format(date);
  return `${day}, ${at.slice(11, 16)}`;
}

/** What is left of a timer: "1:18:03", "7:05". */
export function spokenRest(ms: number): string {
  const all = Math.max(0, Math.ceil(ms / 1000));
  const two = (n: number) => String(n).padStart(2, "0");
  const [hours, minutes, seconds] = [Math.floor(all / 3600), Math.floor(all / 60) % 60, all % 60];
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds)}` : `${minutes}:${two(seconds)}`;
}

/** A planned time: "30 min", "1 h 15 min", "2 days". */
export function spokenMinutes(minutes: number): string {
  if (minutes < 60) return `${minutes} min`;
  if (minutes >= 48 * 60) return `${Math.round((minutes / 1440) * 10) / 10} days`;
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${rest} min`;
}
