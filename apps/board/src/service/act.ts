import type { Service } from './call-service.ts';

/** What a person may do from the page. Each goes under a key of its own, so that one is carried out once also when the line breaks. */
export interface Acts {
  /** Takes up again what failed; gives a sentence of what was set going. */
  retry(rollId: string): Promise<string>;
  /** Has a roll judged again from the media; gives a sentence. */
  judge(rollId: string): Promise<string>;
  acknowledge(shootId: string, findingId: string, seen: { readonly by: string; readonly note: string }): Promise<void>;
}

/** Acts by way of the service. */
export function actsOn(service: Service): Acts {
  return {
    retry: async (id) => (await service.post('/v1/rolls/{id}/retry', { path: { id }, body: {} })).sentence,
    judge: async (id) => (await service.post('/v1/rolls/{id}/judge', { path: { id } })).sentence,
    async acknowledge(id, finding, seen) {
      await service.post('/v1/shoots/{id}/findings/{finding}/acknowledge', { path: { id, finding }, body: seen });
    },
  };
}
