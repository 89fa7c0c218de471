/** The serial ports of a Linux without `udevadm`, as small installations and containers are: read from the files the kernel shows. */
import { readdir, readFile, realpath } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** As the library lists a port; what is not known is absent. */
export interface SysfsPort {
  readonly path: string;
  readonly manufacturer: string | undefined;
  readonly serialNumber: string | undefined;
  readonly pnpId: undefined;
  /** The USB interface, as in 1-1.2:1.0. */
  readonly locationId: string | undefined;
  readonly vendorId: string | undefined;
  readonly productId: string | undefined;
}

const TTY_FOLDER = '/sys/class/tty';
const NO_IDENTITY: Omit<SysfsPort, 'path'> = {
  manufacturer: undefined,
  serialNumber: undefined,
  pnpId: undefined,
  locationId: undefined,
  vendorId: undefined,
  productId: undefined,
};
/** How far above a port its USB device stands at most, folders (ours: bridges have three between). */
const LEVELS_UP = 6;

/** Every port that belongs to a device; rejects where the kernel shows none of it. */
export async function listFromSysfs(folder = TTY_FOLDER): Promise<readonly SysfsPort[]> {
  const found: SysfsPort[] = [];
  for (const name of (await readdir(folder)).toSorted()) {
    // Terminals and consoles have none.
    const device = await realpath(join(folder, name, 'device')).catch(() => null);
    if (device !== null) found.push({ path: `/dev/${name}`, ...(await identityOf(device)) });
  }
  return found;
}

async function identityOf(device: string): Promise<Omit<SysfsPort, 'path'>> {
  let part: string | undefined;
  let folder = device;
  for (let level = 0; level < LEVELS_UP; level++) {
    const vendorId = await lineOf(folder, 'idVendor');
    if (vendorId !== undefined) {
      const [productId, serialNumber, manufacturer] = await Promise.all(
        ['idProduct', 'serial', 'manufacturer'].map((file) => lineOf(folder, file)),
      );
      return { manufacturer, serialNumber, pnpId: undefined, locationId: part, vendorId, productId };
    }
    if (/^\d+-[\d.]+:/.test(basename(folder))) part = basename(folder);
    folder = dirname(folder);
  }
  return NO_IDENTITY;
}

/** undefined: there is no such file, or nothing in it. */
async function lineOf(folder: string, file: string): Promise<string | undefined> {
  const text = await readFile(join(folder, file), 'utf8').catch(() => '');
  return text.trim() || undefined;
}
