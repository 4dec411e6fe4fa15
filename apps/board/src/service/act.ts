import { ShootFinding } from '@quayside/admin-api/page-answers';
import { z } from 'zod';
import type { Service } from './call-service.ts';

/** What a person may do from the page. Each is sent under a key of its own, so that a repeated one is carried out once. */
export interface Acts {
  /** Takes up again what failed; gives a sentence of what was set going. */
  retry(rollId: string): Promise<string>;
  /** Has a roll judged again from the media; gives a sentence. */
  judge(rollId: string): Promise<string>;
  acknowledge(shootId: string, findingId: string, seen: { readonly by: string; readonly note: string }): Promise<void>;
}

const Told = z.object({ sentence: z.string() });

/** Acts by way of the service, under the name of the person as far as the page knows it. */
export function actsOn(service: Service, personNow: () => string): Acts {
  const headers = (): Record<string, string> => ({
    'idempotency-key': crypto.randomUUID(),
    // A header holds no more letters than these.
    ...(personNow() === '' ? {} : { 'quayside-operator': personNow().replaceAll(/[^\x20-\xff]/g, '?') }),
  });
  return {
    async retry(rollId) {
      const request = { method: 'POST', body: {}, headers: headers() } as const;
      return (await service.ask(`${pathOf(rollId)}/retry`, Told, request)).body.sentence;
    },
    async judge(rollId) {
      const request = { method: 'POST', body: {}, headers: headers() } as const;
      return (await service.ask(`${pathOf(rollId)}/judge`, Told, request)).body.sentence;
    },
    async acknowledge(shootId, findingId, seen) {
      const path = `/v1/shoots/${encodeURIComponent(shootId)}/findings/${findingId}/acknowledge`;
      await service.ask(path, ShootFinding, { method: 'POST', body: seen, headers: headers() });
    },
  };
}

function pathOf(rollId: string): string {
  return `/v1/rolls/${encodeURIComponent(rollId)}`;
}
