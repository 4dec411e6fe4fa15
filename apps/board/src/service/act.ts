import type { Service } from './call-service.ts';

/** What a person may do from the page. Each goes under a key of its own, so that one is carried out once also when the line breaks. */
export interface Acts {
  /** Takes up again what failed; gives a sentence of what was set going. */
  retry(rollId: string): Promise<string>;
  /** Has a roll judged again from the media; gives a sentence. */
  judge(rollId: string): Promise<string>;
  /** Tries one run again, of the service's own steps or of a plugin's; gives a sentence. */
  retryRun(runId: string): Promise<string>;
  /** Says which recorder a drive belongs to; gives a sentence. */
  assign(volumeKey: string, recorder: string): Promise<string>;
  acknowledge(shootId: string, findingId: string, seen: { readonly by: string; readonly note: string }): Promise<void>;
}

/** Acts by way of the service. */
export function actsOn(service: Service): Acts {
  return {
    retry: async (id) => (await service.post('/v1/rolls/{id}/retry', { path: { id }, body: {} })).sentence,
    judge: async (id) => (await service.post('/v1/rolls/{id}/judge', { path: { id } })).sentence,
    retryRun: async (id) => (await service.post('/v1/runs/{id}/retry', { path: { id } })).sentence,
    async assign(key, recorder) {
      await service.post('/v1/volumes/{key}/assign', { path: { key }, body: { recorder } });
      return `It is ${recorder}’s. Its footage is taken in.`;
    },
    async acknowledge(id, finding, seen) {
      await service.post('/v1/shoots/{id}/findings/{finding}/acknowledge', { path: { id, finding }, body: seen });
    },
  };
}
