import type { FastifyDynamicSwaggerOptions } from '@fastify/swagger';
import { VERSION } from '@quayside/shoot';

/** What the OpenAPI document says beside the routes. */
export const OPENAPI: NonNullable<FastifyDynamicSwaggerOptions['openapi']> = {
  openapi: '3.1.0',
  info: {
    title: 'Quayside',
    version: VERSION,
    description:
      'What the ingest of a multicam studio is doing, and which drives may be recorded over. Record over a drive only when its roll is `clear`; anything else, no answer included, means no.',
    license: { name: 'MIT', identifier: 'MIT' },
  },
  servers: [{ url: '/', description: 'The service that serves this document.' }],
  components: {
    securitySchemes: {
      token: {
        type: 'http',
        scheme: 'bearer',
        description: 'The content of the file `token` in the data folder, or a token made with `quayside token make`.',
      },
    },
  },
  security: [{ token: ['read'] }],
  tags: [
    { name: 'rolls', description: 'What one drive held on one visit, its copies and its verdict.' },
    { name: 'shoots', description: 'Production days or jobs; all footage belongs to one.' },
    { name: 'runs', description: 'One execution of one step; not kept once it has ended.' },
    { name: 'destinations', description: 'The folders that receive copies, and what is kept there.' },
    { name: 'volumes', description: 'The drives that were seen.' },
    { name: 'findings', description: 'What a person must know.' },
    { name: 'plugins', description: 'Steps that the studio adds, and their runs.' },
    { name: 'events', description: 'What happens, as it happens.' },
    { name: 'messages', description: 'What people were told, and by which channels.' },
    { name: 'health', description: 'Whether the service does its work.' },
    { name: 'tokens', description: 'Who may ask, and what for.' },
    { name: 'configuration', description: 'What the service was started with.' },
    { name: 'audit', description: 'Who changed what, and when.' },
    { name: 'session', description: 'Signing the status page in and out.' },
    { name: 'problems', description: 'What can go wrong with a request.' },
  ],
};
