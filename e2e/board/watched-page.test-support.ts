import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** Generous, for a machine that does much else. */
const WITHIN_MS = 90_000;

/** The page in a browser, with all that the browser had to complain about. */
export class WatchedPage {
  readonly page: Page;
  /** What the console said that is no answer of the service: violations of the security policy above all. */
  readonly complaints: string[] = [];

  private constructor(page: Page) {
    this.page = page;
    page.setDefaultTimeout(WITHIN_MS);
    page.on('pageerror', (error) => this.complaints.push(error.message));
    page.on('console', (message) => {
      // The browser itself reports a service that refuses or is away, which the tests bring about.
      if (!message.text().startsWith('Failed to load resource')) this.complaints.push(message.text());
    });
  }

  static async open(context: BrowserContext): Promise<WatchedPage> {
    return new WatchedPage(await context.newPage());
  }

  async signIn(url: string, token: string): Promise<void> {
    await this.page.goto(url);
    await this.page.getByLabel('Token').fill(token);
    await this.page.getByRole('button', { name: 'Sign in' }).click();
  }

  /** Waits until the line of a recorder's drive says this. */
  async untilDrive(recorder: string, words: string | RegExp): Promise<void> {
    const line = this.page
      .locator('.drive')
      .filter({ has: this.page.getByRole('heading', { name: recorder, exact: true }) });
    await line.filter({ hasText: words }).waitFor();
  }

  async until(words: string | RegExp): Promise<void> {
    await this.page.getByText(words).first().waitFor();
  }

  /** All that stands on the page, for the eye and for the ear. */
  words(): Promise<string> {
    return this.page.locator('body').innerText();
  }

  /** What is wider than the screen. */
  async overflow(): Promise<number> {
    return this.page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
  }
}

export interface Look {
  readonly size: { readonly width: number; readonly height: number };
  readonly colours: 'dark' | 'light';
}

/** What axe-core (WCAG 2.0 to 2.2 at A and AA, and its best practices) finds that keeps people out, a sentence each. */
export async function findBarriers(
  browser: Browser,
  { state, url }: { readonly state: Awaited<ReturnType<BrowserContext['storageState']>>; readonly url: string },
  { size, colours }: Look,
): Promise<{ readonly barriers: readonly string[]; readonly overflow: number }> {
  // The rules are brought in as text, which the page's own security policy rightly forbids.
  const context = await browser.newContext({
    storageState: state,
    viewport: size,
    colorScheme: colours,
    bypassCSP: true,
  });
  try {
    const watched = await WatchedPage.open(context);
    await watched.page.goto(url);
    await watched.page.locator('h1').waitFor();
    await watched.page.locator('.messages li, #token').first().waitFor();
    await watched.page.evaluate(AXE);
    const found: AxeResults = await watched.page.evaluate('axe.run(document, { resultTypes: ["violations"] })');
    const barriers = found.violations.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes[0]?.html.slice(0, 200)}`);
    return { barriers, overflow: await watched.overflow() };
  } finally {
    await context.close();
  }
}
