import { FolderName, Grant } from '@quayside/shoot';
import { z } from 'zod';

const Secret = z
  .union([
    z.strictObject({ file: z.string().min(1).describe('File whose text is the secret, without the last line end.') }),
    z.strictObject({ environment: z.string().min(1).describe("Variable of the service's environment that holds it.") }),
  ])
  .describe('Where a secret is: in a file, or in a variable of the environment. Never in this file.');

const Plugin = z
  .strictObject({
    use: z
      .string()
      .min(1)
      .describe(
        'The plugin: a file or a package folder, relative to this file and beginning with "./", or the name of an installed package. No default.',
      ),
    isOn: z.boolean().default(true).describe('Whether it is used. Default true.'),
    grants: z
      .array(Grant)
      .default([])
      .describe(
        'What its steps may do beyond reading verified copies: `child-processes`, `native-addons`, `worker-threads`, `network`. Default: none. Whoever may start programs may do all that the service may, footage included.',
      ),
    config: z
      .record(FolderName, z.record(z.string(), z.json()))
      .default({})
      .describe('The configuration of its steps, by the name of the step. Default: what each step takes as its own.'),
    secrets: z.record(z.string(), Secret).default({}).describe('The secrets that its steps name. Default: none.'),
    parallel: z
      .int()
      .min(1)
      .max(64)
      .default(1)
      .describe(
        'How many of its runs may be under way at once, 1 to 64. Default 1. More take processor time and drives from the copying.',
      ),
    makesWay: z
      .boolean()
      .default(true)
      .describe(
        'Whether its steps that keep the machine busy, such as those that make proxies, stand still while drives are being taken in. Default true. With `false` they go on, behind the copying, and take processor time and drives from it.',
      ),
  })
  .describe('One plugin.');

/** The plugins that the operator adds. Order does not count: each step says what it comes after. */
export const Plugins = z
  .array(Plugin)
  .max(100)
  .default([])
  .describe('Steps of your own, run on footage that is proven, each in a process of its own. Default: none.');
