/** A length of time for people who glance: whole seconds below a minute, then minutes, then hours with minutes. */
export function showDuration(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds));
  if (whole < 60) return `${whole} s`;
  const minutes = Math.round(whole / 60);
  if (minutes < 60) return `${minutes} min`;
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${rest} min`;
}

/** The time left as an estimate says it: steps of five seconds below a minute, so that it does not flicker. */
export function showTimeLeft(seconds: number): string {
  if (seconds < 5) return 'a few seconds left';
  return `about ${showDuration(seconds < 60 ? Math.ceil(seconds / 5) * 5 : seconds)} left`;
}
