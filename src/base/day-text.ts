const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

/** The day of a local time such as "2026-11-30T06:00", with its weekday: "Mon 2026-11-30". */
export function dayText(time: string): string {
  const day = time.slice(0, 10);
  return `${DAYS[new Date(`${day}T00:00:00Z`).getUTCDay()]} ${day}`;
}
