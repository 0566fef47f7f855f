import { useEffect, useState } from 'react';
import { dayOf } from './due.js';

/** How often the day is looked at again, ms; a desk stays open over midnight. */
const LOOK_AGAIN_MS = 60_000;

/** Today at this device, `YYYY-MM-DD`. */
export function useToday(): string {
  const [today, setToday] = useState(() => dayOf(new Date()));
  useEffect(() => {
    const timer = setInterval(() => setToday(dayOf(new Date())), LOOK_AGAIN_MS);
    return () => clearInterval(timer);
  }, []);
  return today;
}
