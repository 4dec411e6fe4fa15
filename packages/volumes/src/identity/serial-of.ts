import { dirname, join } from 'node:path';
import { realpathSync } from 'node:fs';
import { type BlockDevice, diskFolder, readAttribute } from '../devices/block-device.ts';

/** The serial number of the drive as sysfs has it, or null. For a USB drive it is often the reader's, the same for all its slots. */
export function serialOf(device: Pick<BlockDevice, 'folder'>): string | null {
  const disk = diskFolder(device.folder);
  return readAttribute(disk, 'serial') ?? readAttribute(join(disk, 'device'), 'serial') ?? usbSerial(disk);
}

/** A USB drive's serial stands at the USB device, some folders above the disk. */
function usbSerial(disk: string): string | null {
  if (!/\/usb\d+\//.test(disk)) return null;
  for (let folder = realpathSync(disk); /\/usb\d+\//.test(folder); folder = dirname(folder)) {
    const serial = readAttribute(folder, 'serial');
    if (serial) return serial;
  }
  return null;
}
