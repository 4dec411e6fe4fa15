import dgram from 'node:dgram';
import dns from 'node:dns';
import { syncBuiltinESMExports } from 'node:module';
import net from 'node:net';
import os from 'node:os';
import v8 from 'node:v8';

export interface Openings {
  readonly network: boolean;
  readonly childProcesses: boolean;
}

/**
 * Closes what Node's permission model leaves open in this version: the network, signals to other processes, their priority,
 * the user ids, and flags that write files. It is done from within, before the plugin is loaded: against mistakes and plain
 * tricks, not against an attack on the runtime itself.
 */
export function sealOff({ network, childProcesses }: Openings): void {
  if (!network) closeNetwork();
  // Whoever may start programs can send signals through one.
  if (!childProcesses) closeSignals();
  for (const name of ['setuid', 'setgid', 'seteuid', 'setegid', 'setgroups', 'initgroups', 'execve'])
    close(process, name, 'act as another user');
  for (const name of ['_debugProcess', '_debugEnd']) close(process, name, 'debug processes');
  close(os, 'setPriority', 'change priorities');
  for (const name of ['setFlagsFromString', 'setHeapSnapshotNearHeapLimit']) close(v8, name, 'change the runtime');
  syncBuiltinESMExports();
}

function closeNetwork(): void {
  const why = 'use the network, for which it has no grant "network"';
  close(net.Socket.prototype, 'connect', why);
  for (const name of ['listen', '_listen2']) close(net.Server.prototype, name, why);
  close(net, '_createServerHandle', why);
  for (const name of ['createSocket', 'Socket', '_createSocketHandle']) close(dgram, name, why);
  closeAll(dns, why);
  closeAll(dns.promises, why);
  for (const resolver of [dns.Resolver, dns.promises.Resolver]) closeAll(resolver.prototype, why);
  // The handle below a socket, which `process.stdout` shows.
  for (const handle of handlesInUse()) {
    for (const name of ['connect', 'bind', 'listen', 'open']) close(handle, name, why);
  }
}

function handlesInUse(): readonly object[] {
  const handles = [process.stdout, process.stderr].map((stream): unknown => Reflect.get(stream, '_handle'));
  return handles.flatMap((handle) =>
    typeof handle === 'object' && handle !== null ? [Object.getPrototypeOf(handle) as object] : [],
  );
}

function closeSignals(): void {
  for (const name of ['kill', '_kill']) close(process, name, 'send signals to processes');
}

function closeAll(target: object, what: string): void {
  for (const name of Object.getOwnPropertyNames(target)) {
    if (name !== 'constructor' && typeof Reflect.get(target, name) === 'function' && !/^[A-Z]/.test(name))
      close(target, name, what);
  }
}

function close(target: object, name: string, what: string): void {
  // Two streams may share a prototype, which is closed once.
  if (!(name in target) || Object.getOwnPropertyDescriptor(target, name)?.configurable === false) return;
  const denied = function denied(): never {
    throw Object.assign(new Error(`This step may not ${what}.`), { code: 'ERR_ACCESS_DENIED', permission: what });
  };
  Object.defineProperty(target, name, { value: denied, writable: false, configurable: false, enumerable: true });
}
