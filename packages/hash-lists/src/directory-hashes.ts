import type { HashAlgorithm } from '@quayside/shoot';
import { createMD5, createSHA1, createSHA512, createXXHash128, createXXHash3, createXXHash64 } from 'hash-wasm';
import { bytesOfDigest, textOfDigest } from './digest-text.ts';
import { type Folder, folderTree } from './folder-tree.ts';

/** `content` says that the files hold the same bytes; `structure` also that they bear the same names. */
export interface DirectoryHash {
  readonly content: string;
  readonly structure: string;
}

export interface DirectoryHashes {
  readonly root: DirectoryHash;
  /** By path, every folder that the files lie in. */
  readonly folders: ReadonlyMap<string, DirectoryHash>;
}

/**
 * The directory hashes of a whole set of files, from their digests alone (ASC MHL specification v1.0, section 6.5.2 and
 * appendix G). The set must be complete: a file left out gives other hashes.
 * @throws QuaysideError `MANIFEST_CONTENT` when one path is there twice, or is a file and a folder.
 */
export async function directoryHashes(
  files: readonly { readonly path: string; readonly digest: string }[],
  algorithm: HashAlgorithm,
  emptyFolders: readonly string[] = [],
): Promise<DirectoryHashes> {
  const hasher = await HASHER[algorithm]();
  const hash = (bytes: Uint8Array): Uint8Array => hasher.init().update(bytes).digest('binary');
  const folders = new Map<string, DirectoryHash>();

  const visit = (folder: Folder<string>): Raw => {
    const contents: Uint8Array[] = [];
    const structures: Uint8Array[] = [];
    const add = (name: string, raw: Raw): void => {
      contents.push(raw.content);
      structures.push(hash(Buffer.concat([Buffer.from(name), raw.structure])));
    };
    for (const [name, digest] of folder.files) {
      const bytes = bytesOfDigest(algorithm, digest);
      add(name, { content: bytes, structure: bytes });
    }
    for (const [name, child] of folder.folders) add(name, visit(child));
    const raw = { content: hash(inOrder(contents)), structure: hash(inOrder(structures)) };
    folders.set(folder.path, {
      content: textOfDigest(algorithm, raw.content),
      structure: textOfDigest(algorithm, raw.structure),
    });
    return raw;
  };

  const top = visit(
    folderTree(
      files.map((file) => [file.path, file.digest]),
      emptyFolders,
    ),
  );
  folders.delete('');
  return {
    root: { content: textOfDigest(algorithm, top.content), structure: textOfDigest(algorithm, top.structure) },
    folders,
  };
}

interface Raw {
  readonly content: Uint8Array;
  readonly structure: Uint8Array;
}

function inOrder(digests: Uint8Array[]): Uint8Array {
  return Buffer.concat(digests.toSorted((one, other) => Buffer.compare(one, other)));
}

const HASHER = {
  c4: createSHA512,
  md5: createMD5,
  sha1: createSHA1,
  xxh128: () => createXXHash128(),
  xxh3: () => createXXHash3(),
  xxh64: () => createXXHash64(),
} as const;
