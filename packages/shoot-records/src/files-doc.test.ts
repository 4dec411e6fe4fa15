import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { ProxyTarget } from '@quayside/proxy-planning';
import { z } from 'zod';
import { ProxyPlanJson } from './data/proxy-plan-json.ts';
import { RecordsJson } from './data/records-json.ts';
import { PROXY_PLAN, RECORD_NAMES } from './record-names.ts';
import { renderShootRecords } from './render-shoot-records.ts';
import { faultyClass } from './shoots.test-support.ts';

const DOCUMENT = readFileSync(new URL('../FILES.md', import.meta.url), 'utf8');

function expectDocumented(names: Iterable<string>): void {
  expect([...names].filter((name) => !DOCUMENT.includes(`\`${name}\``))).toEqual([]);
}

it('every file, column and key that is written is documented', () => {
  const files = renderShootRecords(faultyClass());
  expectDocumented(Object.values(RECORD_NAMES));
  for (const name of [RECORD_NAMES.groupsCsv, RECORD_NAMES.findingsCsv]) {
    expectDocumented((files.get(name) ?? '').split('\r\n')[0]?.split(',') ?? []);
  }
  const { shape } = RecordsJson;
  expectDocumented([...Object.keys(shape), ...Object.keys(shape.clips.element.shape)]);
  expectDocumented([...Object.keys(shape.groups.element.shape), ...Object.keys(shape.findings.element.shape)]);
  expectDocumented([...Object.keys(ProxyPlanJson.shape), ...Object.keys(ProxyTarget.shape)]);
  expect(ProxyPlanJson.parse(JSON.parse(files.get(PROXY_PLAN) ?? '')).plan.clips.length).toBeGreaterThan(0);
  for (const [name, text] of files) {
    if (name.endsWith('.otio')) expectDocumented(keysUnderOurName(JSON.parse(text)));
  }
});

function keysUnderOurName(value: unknown): ReadonlySet<string> {
  const keys = new Set<string>();
  walk(value, false);
  return keys;

  function walk(part: unknown, isOurs: boolean): void {
    if (Array.isArray(part)) for (const each of part) walk(each, isOurs);
    const object = z.record(z.string(), z.unknown()).safeParse(part);
    for (const [key, child] of Object.entries(object.success ? object.data : {})) {
      if (isOurs) keys.add(key);
      walk(child, isOurs || key === 'quayside');
    }
  }
}
