import type { XmlElement } from '@rgrove/parse-xml';
import { type Digests, HashAlgorithm } from '@quayside/shoot';
import { isDigestText } from './digest-text.ts';
import {
  type Creator,
  type FileRecord,
  type FolderDigests,
  type FolderRecord,
  HASH_ACTIONS,
  type HashRecord,
  type Manifest,
  MANIFEST_NAMESPACE,
  MANIFEST_VERSION,
  PROCESSES,
} from './manifest.ts';
import { isRecordablePath } from './recordable-path.ts';
import { instantFrom, msFrom } from './xml-date.ts';
import {
  childrenNamed,
  childText,
  elementsIn,
  exactText,
  localName,
  readXml,
  rootNamespace,
  type XmlSource,
} from './xml-reading.ts';

export type ManifestReading =
  | { readonly state: 'read'; readonly manifest: Manifest; readonly refused: readonly string[] }
  | { readonly state: 'malformed'; readonly why: string }
  | { readonly state: 'unsupported'; readonly why: string };

/**
 * Reads a manifest leniently: elements in any order, unknown ones passed over, and what is unusable in one record
 * (`refused`) does not spoil the others. Never throws.
 */
export function readManifest(bytes: Uint8Array): ManifestReading {
  try {
    const source = readXml(bytes);
    const why = unsupported(source.root);
    return why === null ? readHashList(source) : { state: 'unsupported', why };
  } catch (error) {
    // The parser's message has an excerpt below its first line.
    const [why = ''] = (error instanceof Error ? error.message : String(error)).split('\n');
    return { state: 'malformed', why };
  }
}

function unsupported(root: XmlElement): string | null {
  const namespace = rootNamespace(root);
  const version = root.attributes['version'];
  if (localName(root) !== 'hashlist' || namespace !== MANIFEST_NAMESPACE)
    return `its root is "${root.name}" in namespace "${namespace ?? ''}"`;
  return version === MANIFEST_VERSION ? null : `its version is "${version ?? ''}"`;
}

function readHashList(source: XmlSource): ManifestReading {
  const { root } = source;
  const [creatorInfo] = childrenNamed(root, 'creatorinfo');
  const [processInfo] = childrenNamed(root, 'processinfo');
  const [rootHash] = childrenNamed(processInfo, 'roothash');
  const files = new Map<string, FileRecord>();
  const folders: FolderRecord[] = [];
  const refused: string[] = [];

  for (const record of childrenNamed(root, 'hashes').flatMap(elementsIn)) {
    const path = pathIn(record, 'path', source);
    const name = localName(record);
    if (name !== 'hash' && name !== 'directoryhash') continue;
    if (path === null || !isRecordablePath(path)) refused.push(`the path ${JSON.stringify(path)} is not usable`);
    else if (name === 'directoryhash')
      folders.push({ path, ...folderDigests(record), previousPath: pathIn(record, 'previousPath', source) });
    else if (files.has(path)) refused.push(`"${path}" is recorded twice`);
    else files.set(path, fileRecord(record, { path, previousPath: pathIn(record, 'previousPath', source) }, refused));
  }

  const manifest: Manifest = {
    startedAt: instantFrom(childText(creatorInfo, 'creationdate')),
    process: PROCESSES.find((process) => process === childText(processInfo, 'process')) ?? null,
    creator: creatorFrom(creatorInfo),
    ignore: childrenNamed(processInfo, 'ignore')
      .flatMap((ignore) => childrenNamed(ignore, 'pattern'))
      .map((pattern) => exactText(pattern, source)),
    root: rootHash === undefined ? null : folderDigests(rootHash),
    files: [...files.values()],
    folders,
    references: childrenNamed(root, 'references')
      .flatMap((references) => childrenNamed(references, 'hashlistreference'))
      .map((item) => ({ path: pathIn(item, 'path', source) ?? '', c4: childText(item, 'c4') })),
  };
  return { state: 'read', manifest, refused };
}

function fileRecord(
  record: XmlElement,
  paths: Pick<FileRecord, 'path' | 'previousPath'>,
  refused: string[],
): FileRecord {
  const attributes = childrenNamed(record, 'path')[0]?.attributes ?? {};
  const size = attributes['size'] ?? '';
  const hashes = hashesIn(record);
  for (const { algorithm, value } of hashes.filter((hash) => !isDigestText(hash.algorithm, hash.value)))
    refused.push(`"${paths.path}" has "${value}" as its ${algorithm}`);
  return {
    ...paths,
    sizeInBytes: /^\d{1,15}$/.test(size) ? Number(size) : null,
    createdMs: msFrom(attributes['creationdate'] ?? ''),
    modifiedMs: msFrom(attributes['lastmodificationdate'] ?? ''),
    hashes: hashes.filter((hash) => isDigestText(hash.algorithm, hash.value)),
  };
}

function folderDigests(container: XmlElement): FolderDigests {
  const digests = (name: string): Digests =>
    Object.fromEntries(
      childrenNamed(container, name)
        .flatMap(hashesIn)
        .map(({ algorithm, value }) => [algorithm, value]),
    );
  return { content: digests('content'), structure: digests('structure') };
}

/** The hashes in a container, of the algorithms that specification v1.0 names: the `xxh32` of the published schema is not. */
function hashesIn(container: XmlElement): HashRecord[] {
  return elementsIn(container).flatMap((child) => {
    const name = localName(child);
    const algorithm = HashAlgorithm.options.find((one) => one === name);
    if (algorithm === undefined) return [];
    const text = child.text.trim();
    return [
      {
        algorithm,
        value: algorithm === 'c4' ? text : text.toLowerCase(),
        action: HASH_ACTIONS.find((action) => action === child.attributes['action']) ?? null,
        at: instantFrom(child.attributes['hashdate'] ?? ''),
      },
    ];
  });
}

function pathIn(record: XmlElement, name: string, source: XmlSource): string | null {
  const [child] = childrenNamed(record, name);
  return child === undefined ? null : exactText(child, source).replace(/\/+$/, '');
}

function creatorFrom(info: XmlElement | undefined): Creator {
  const [tool] = childrenNamed(info, 'tool');
  const [author] = childrenNamed(info, 'author');
  const [location] = childrenNamed(info, 'location');
  const [comment] = childrenNamed(info, 'comment');
  return {
    hostname: childText(info, 'hostname'),
    tool: tool?.text ?? '',
    toolVersion: tool?.attributes['version'] ?? '',
    ...(author === undefined ? {} : { author: { name: author.text, ...attributesOf(author) } }),
    ...(location === undefined ? {} : { location: location.text }),
    ...(comment === undefined ? {} : { comment: comment.text }),
  };
}

function attributesOf(author: XmlElement): { role?: string; email?: string; phone?: string } {
  const { role, email, phone } = author.attributes;
  return {
    ...(role === undefined ? {} : { role }),
    ...(email === undefined ? {} : { email }),
    ...(phone === undefined ? {} : { phone }),
  };
}
