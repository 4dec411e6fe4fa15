import type { Digests } from '@quayside/shoot';
import { WRITTEN_ORDER } from './digest-text.ts';
import {
  type Author,
  type Creator,
  type FileRecord,
  type FolderDigests,
  type FolderRecord,
  type HashRecord,
  type Manifest,
  MANIFEST_NAMESPACE,
  type ManifestReference,
  MANIFEST_VERSION,
} from './manifest.ts';
import { readableText } from './recordable-path.ts';
import { type Element, element, xmlBytes } from './xml-writing.ts';

/**
 * The bytes of a manifest, with its elements in the one order that both the published schema and appendix A of the
 * specification accept.
 */
export function buildManifest(manifest: Manifest): Uint8Array {
  const children = [
    creatorInfo(manifest.creator, manifest.startedAt),
    processInfo(manifest),
    element('hashes', [...manifest.files.map(fileHash), ...manifest.folders.map(directoryHash)]),
    ...(manifest.references.length === 0 ? [] : [element('references', manifest.references.map(reference))]),
  ];
  return xmlBytes(element('hashlist', children, { version: MANIFEST_VERSION, xmlns: MANIFEST_NAMESPACE }));
}

function creatorInfo(creator: Creator, startedAt: string | null): Element {
  const { author, location, comment } = creator;
  return element('creatorinfo', [
    element('creationdate', startedAt ?? ''),
    element('hostname', readableText(creator.hostname)),
    element('tool', readableText(creator.tool), { version: readableText(creator.toolVersion) }),
    ...(author === undefined ? [] : [authorElement(author)]),
    ...(location === undefined ? [] : [element('location', readableText(location))]),
    ...(comment === undefined ? [] : [element('comment', readableText(comment))]),
  ]);
}

function authorElement(author: Author): Element {
  // The schema's own pattern: an address that does not match would make the whole manifest invalid.
  const email = /^[^@]+@[^.]+\..+$/.test(author.email ?? '') ? (author.email ?? null) : null;
  return element('author', readableText(author.name), {
    email: email && readableText(email),
    phone: author.phone === undefined ? null : readableText(author.phone),
    role: author.role === undefined ? null : readableText(author.role),
  });
}

function processInfo(manifest: Manifest): Element {
  return element('processinfo', [
    element('process', manifest.process ?? ''),
    ...(manifest.root === null ? [] : [element('roothash', digestPair(manifest.root))]),
    element(
      'ignore',
      manifest.ignore.map((pattern) => element('pattern', pattern)),
    ),
  ]);
}

function fileHash(file: FileRecord): Element {
  const attributes = {
    size: file.sizeInBytes === null ? null : String(file.sizeInBytes),
    creationdate: dateTime(file.createdMs),
    lastmodificationdate: dateTime(file.modifiedMs),
  };
  return element('hash', [
    element('path', file.path, attributes),
    ...file.hashes
      .toSorted(byWrittenOrder)
      .map((hash) => element(hash.algorithm, hash.value, { action: hash.action, hashdate: hash.at })),
    ...previousPath(file.previousPath),
  ]);
}

function directoryHash(folder: FolderRecord): Element {
  return element('directoryhash', [
    element('path', folder.path),
    ...digestPair(folder),
    ...previousPath(folder.previousPath),
  ]);
}

function digestPair(digests: FolderDigests): Element[] {
  return [element('content', digestElements(digests.content)), element('structure', digestElements(digests.structure))];
}

function digestElements(digests: Digests): Element[] {
  return WRITTEN_ORDER.flatMap((algorithm) => {
    const value = digests[algorithm];
    return value === undefined ? [] : [element(algorithm, value)];
  });
}

function previousPath(path: string | null): Element[] {
  return path === null ? [] : [element('previousPath', path)];
}

function reference({ path, c4 }: ManifestReference): Element {
  return element('hashlistreference', [element('path', path), element('c4', c4)]);
}

function byWrittenOrder(one: HashRecord, other: HashRecord): number {
  return WRITTEN_ORDER.indexOf(one.algorithm) - WRITTEN_ORDER.indexOf(other.algorithm);
}

function dateTime(ms: number | null): string | null {
  return ms === null ? null : new Date(ms).toISOString();
}
