import { z } from 'zod';

/** What a token allows: to look, to do what an operator does, or everything. Each allows what the ones before it allow. */
export const Scope = z.enum(['read', 'operate', 'admin']);
export type Scope = z.output<typeof Scope>;

/** Whether a token of one scope may do what wants another. */
export function allows(has: Scope, wants: Scope): boolean {
  return Scope.options.indexOf(has) >= Scope.options.indexOf(wants);
}

/** What a request wants unless its route says otherwise: looking is reading, all else is operating. */
export function scopeOfMethod(method: string): Scope {
  return method === 'GET' || method === 'HEAD' ? 'read' : 'operate';
}
