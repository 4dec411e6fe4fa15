import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Acts } from '../service/act.ts';

/** What a person may do, and who they say they are. */
export interface Acting {
  readonly acts: Acts;
  readonly person: string;
  readonly setPerson: (name: string) => void;
}

/** Given by the page to all that is in it. */
export const ActsContext = createContext<Acting | null>(null);

/** What a person may do, from within the page. */
export function useActs(): Acting {
  const acting = useContext(ActsContext);
  if (acting === null) throw new Error('This part stands outside of the page.');
  return acting;
}
