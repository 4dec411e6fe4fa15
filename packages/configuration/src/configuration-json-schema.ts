import { z } from 'zod';
import { ConfigurationFile } from './configuration-schema.ts';

/** The JSON Schema (draft 2020-12) of what may be written in the file, for editors and for other tools. */
export function configurationJsonSchema(): z.core.JSONSchema.JSONSchema {
  return z.toJSONSchema(ConfigurationFile, { target: 'draft-2020-12', io: 'input' });
}
