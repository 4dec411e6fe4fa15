export { createFactsReader } from './reader/create-facts-reader.ts';
export type {
  FactsReader,
  FactsReaderOptions,
  FileQuestion,
  ReadingCost,
  StopSignal,
} from './reader/create-facts-reader.ts';
