import { expect, it } from 'vitest';
import { parseDiskutilInfo } from './parse-diskutil-info.ts';
import { parseMacMounts } from './parse-mac-mounts.ts';

// All samples in this file are written from memory of macOS' output, not recorded on a Mac.

it('the lines of mount on a Mac are read, with brackets and “ on ” in a volume’s name', () => {
  const text = [
    '/dev/disk3s1s1 on / (apfs, sealed, local, read-only, journaled)',
    'map auto_home on /System/Volumes/Data/home (autofs, automounted, nobrowse)',
    '/dev/disk4s1 on /Volumes/Wheel on (left) 1 (exfat, local, nodev, nosuid, noowners)',
    '//desk@nas._smb._tcp.local/films on /Volumes/films (smbfs, nodev, nosuid, mounted by desk)',
    '',
  ].join('\n');
  expect(parseMacMounts(text)).toEqual([
    { source: '/dev/disk3s1s1', path: '/', fileSystem: 'apfs', readOnly: true },
    { source: 'map auto_home', path: '/System/Volumes/Data/home', fileSystem: 'autofs', readOnly: false },
    { source: '/dev/disk4s1', path: '/Volumes/Wheel on (left) 1', fileSystem: 'exfat', readOnly: false },
    { source: '//desk@nas._smb._tcp.local/films', path: '/Volumes/films', fileSystem: 'smbfs', readOnly: false },
  ]);
});

const plist = (body: string): string => `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0"><dict>${body}</dict></plist>`;

it('an exFAT drive is known by UUID, name, size and its whole disk', () => {
  const text = plist(`
    <key>DeviceIdentifier</key><string>disk4s1</string>
    <key>FilesystemType</key><string>exfat</string>
    <key>ParentWholeDisk</key><string>disk4</string>
    <key>TotalSize</key><integer>64021856256</integer>
    <key>VolumeName</key><string>WHEEL</string>
    <key>VolumeUUID</key><string>0E239BC6-F960-3107-89CF-1C97F78BB46B</string>`);
  expect(parseDiskutilInfo(text)).toEqual({
    fileSystem: 'exfat',
    uuid: '0E239BC6-F960-3107-89CF-1C97F78BB46B',
    label: 'WHEEL',
    sizeInBytes: 64_021_856_256,
    wholeDisks: ['disk4'],
  });
});

it('an APFS volume lies on the disk below its container, not on the container', () => {
  const text = plist(`
    <key>APFSPhysicalStores</key><array><dict><key>APFSPhysicalStore</key><string>disk0s2</string></dict></array>
    <key>FilesystemType</key><string>apfs</string>
    <key>ParentWholeDisk</key><string>disk3</string>`);
  expect(parseDiskutilInfo(text)?.wholeDisks).toEqual(['disk0']);
});

it('whatever is missing is null, and other text is no answer', () => {
  expect(parseDiskutilInfo(plist(''))).toEqual({
    fileSystem: null,
    uuid: null,
    label: null,
    sizeInBytes: 0,
    wholeDisks: [],
  });
  expect(parseDiskutilInfo('Could not find disk: /Volumes/none')).toBeNull();
});
