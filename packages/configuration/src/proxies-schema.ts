import { DEFAULT_PROXY_RULES, ProxyRule } from '@quayside/proxy-planning';
import { FolderName } from '@quayside/shoot';
import { z } from 'zod';
import { Size } from './size-schema.ts';

/** How proxies are planned: which clips get which, and the room that they may take. */
export const Proxies = z
  .strictObject({
    plan: z
      .boolean()
      .default(true)
      .describe(
        'Whether a plan of proxies is made for each shoot: which clips need one, what they will weigh and take. Default true. It costs a fraction of a second for each drive that arrives, and makes nothing.',
      ),
    approval: z
      .enum(['none', 'required'])
      .default('none')
      .describe(
        '`none`: the proxies of a plan are made as soon as it stands. `required`: none is made before a person approves the plan (`quayside proxies approve`), and a plan with other proxies has to be approved anew. Default none.',
      ),
    destination: FolderName.optional().describe(
      'The destination whose free space limits the proxies. Default: the first one. What must stay free there, and what rolls still bring, is left alone.',
    ),
    budget: Size.optional().describe(
      'The most that the proxies of one shoot may take, as a size text such as "500 GiB" or a number of bytes. Default: what is free. Less leaves whole takes out, the oldest first.',
    ),
    rules: z
      .array(ProxyRule)
      .max(100)
      .prefault([...DEFAULT_PROXY_RULES])
      .describe(
        'Which clips get which proxy; the first rule that holds decides, and a clip that none names is edited as it is. Given, it replaces the default list. A new list makes new plans, also of shoots that are over.',
      ),
  })
  .prefault({})
  .describe('How proxies are planned.');
