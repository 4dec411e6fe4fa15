import { useEffect, useState } from 'preact/hooks';
import type { Moment } from '../picture/moment.ts';

/** This moment by both clocks of the browser. */
export function momentNow(): Moment {
  return { wall: Date.now(), steady: performance.now() };
}

/** This moment, new each second and whenever the page comes back into view. */
export function useNow(): Moment {
  const [now, setNow] = useState(momentNow());
  useEffect(() => {
    const tick = (): void => setNow(momentNow());
    const timer = setInterval(tick, 1000);
    document.addEventListener('visibilitychange', tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', tick);
    };
  }, []);
  return now;
}
