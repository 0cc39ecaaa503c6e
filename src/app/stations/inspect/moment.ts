/** A moment of the log (ISO 8601) as the clock on the wall shows it, "2026-11-25T08:30"; '' where it is none. */
export function localMoment(iso: string): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return '';
  const two = (figure: number) => String(figure).padStart(2, '0');
  return `${String(date.getFullYear()).padStart(4, '0')}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** The moment that the clock on the wall shows, as the log keeps it (UTC); undefined where it is none. */
export function momentOf(local: string): string | undefined {
  const date = new Date(local);
  return local === '' || Number.isNaN(date.getTime()) ? undefined : date.toISOString();
}
