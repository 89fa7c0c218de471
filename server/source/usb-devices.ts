/**
 * USB devices that could be a serial thermometer and have no driver: they are plugged in, and there is no port. Only Linux shows
 * that in files; elsewhere nothing is found.
 */
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';

const USB_FOLDER = '/sys/bus/usb/devices';

/** Interface classes of serial devices: communications and its data, and vendor specific (USB-IF, “Defined Class Codes”). */
const SERIAL_CLASSES: readonly string[] = ['02', '0a', 'ff'];

/** What each such device calls itself, with its vendor and product; empty where there is none or the system does not show it. */
export async function driverless(folder = USB_FOLDER): Promise<readonly string[]> {
  const names = await readdir(folder).catch((): string[] => []);
  const found = new Set<string>();
  for (const name of names.toSorted()) {
    // An interface is called after its device: 1-1.2:1.0.
    const [device, part] = name.split(':');
    if (part === undefined || !(await isWithoutDriver(join(folder, name)))) continue;
    found.add(await nameOf(join(folder, device!)));
  }
  return [...found];
}

async function isWithoutDriver(folder: string): Promise<boolean> {
  if (!SERIAL_CLASSES.includes(await lineOf(folder, 'bInterfaceClass'))) return false;
  return stat(join(folder, 'driver')).then(
    () => false,
    () => true,
  );
}

async function nameOf(folder: string): Promise<string> {
  const [maker, product, vendorId, productId] = await Promise.all(
    ['manufacturer', 'product', 'idVendor', 'idProduct'].map((file) => lineOf(folder, file)),
  );
  const name = [maker, product].filter((word) => word !== '').join(' ');
  return `${name === '' ? 'unnamed' : name} (${vendorId}:${productId})`;
}

async function lineOf(folder: string, file: string): Promise<string> {
  return (await readFile(join(folder, file), 'utf8').catch(() => '')).trim();
}
