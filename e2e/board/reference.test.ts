import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Service } from '../service/start-service.ts';
import { NO_BROWSER, openBrowser } from './open-browser.ts';

it.skipIf(NO_BROWSER !== null)(
  'the reference of the API is shown with nothing from outside, and breaks none of the rules that it is sent with',
  { timeout: 240_000 },
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'quayside-reference-'));
    const destinations = ['a', 'b'].map((name) => ({ name, path: join(folder, name) }));
    const service = await Service.start({ folder, configuration: { destinations, watch: { roots: [folder] } } });
    try {
      await using browser = await openBrowser();
      const page = await browser.newPage();
      const asked: string[] = [];
      const complaints: string[] = [];
      page.on('request', (request) => asked.push(request.url()));
      page.on('console', (message) => (message.type() === 'error' ? complaints.push(message.text()) : undefined));
      page.on('pageerror', (error) => complaints.push(error.message));
      const reference = `http://127.0.0.1:${service.port}/reference`;
      await page.goto(reference);
      await page
        .getByRole('button', { name: /rolls\/\{id\}\/copies/ })
        .first()
        .click();
      await page.getByText('wheel-20260301-1a2b3c').first().waitFor();
      expect(asked.length).toBeGreaterThan(4);
      expect(asked.filter((url) => !url.startsWith(reference) && !url.startsWith('data:'))).toEqual([]);
      expect(complaints).toEqual([]);
    } finally {
      await service.stop();
      await rm(folder, { recursive: true, force: true });
    }
  },
);
