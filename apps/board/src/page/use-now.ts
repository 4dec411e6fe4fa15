import { useEffect, useState } from 'preact/hooks';
import type { Moment } from '../picture/moment.ts';

/** This moment by both clocks of the browser. */
export function momentNow(): Moment {
  return { wall: Date.now(), steady: performance.now() };
}

/** This moment, and whether anybody can see the page, told anew each second and whenever the page goes out of sight or comes back. */
export function useNow(): { readonly now: Moment; readonly isShown: boolean } {
  const [seen, setSeen] = useState(look());
  useEffect(() => {
    const tick = (): void => setSeen(look());
    const timer = setInterval(tick, 1000);
    document.addEventListener('visibilitychange', tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', tick);
    };
  }, []);
  return seen;
}

function look(): { readonly now: Moment; readonly isShown: boolean } {
  return { now: momentNow(), isShown: !document.hidden };
}
