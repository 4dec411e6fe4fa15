/**
 * A relative reference (RFC 3986) from a file that lies `depth` folders below the shoot's folder to a place in that folder.
 * Every segment is percent-encoded as UTF-8, so no name can be read as anything but a name.
 */
export function relativeUrl(place: string, depth: number): string {
  const segments = place.split('/').map((segment) => encodeURIComponent(segment.toWellFormed()));
  return '../'.repeat(depth) + segments.join('/');
}
