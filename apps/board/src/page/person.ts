const PLACE = 'quayside-person';

/** The name under which this browser's person acts, as they gave it last; empty when they have not. */
export function keptPerson(): string {
  return localStorage.getItem(PLACE) ?? '';
}

/** Keeps the name in this browser. */
export function keepPerson(name: string): void {
  localStorage.setItem(PLACE, name);
}
