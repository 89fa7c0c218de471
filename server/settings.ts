/**
 * What Bowlside remembers between starts beside its runs: which thermometer a person chose. One small JSON file in the data folder,
 * replaced whole. Losing it costs a question, so a damaged one counts as empty.
 */
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PortIdentity } from './source/ports.ts';

export interface Settings {
  /** The thermometer opened last, or null where none was ever chosen. */
  readonly thermometer: PortIdentity | null;
}

const FILE = 'settings.json';
const NOTHING: Settings = { thermometer: null };

/** Never throws: no file, or one that cannot be understood, gives the settings of a first start. */
export function readSettings(folder: string): Settings {
  try {
    const value: unknown = JSON.parse(readFileSync(join(folder, FILE), 'utf8'));
    return settingsFrom(value);
  } catch {
    return NOTHING;
  }
}

/**
 * Either the old file or the new one is there afterwards, never half of one. False where the folder cannot be written: that is no reason
 * not to read the thermometer.
 */
export function writeSettings(folder: string, settings: Settings): boolean {
  const path = join(folder, FILE);
  try {
    writeFileSync(`${path}.new`, `${JSON.stringify(settings, null, 2)}\n`, { mode: 0o600, flush: true });
    renameSync(`${path}.new`, path);
    return true;
  } catch {
    return false;
  }
}

function settingsFrom(value: unknown): Settings {
  const thermometer = typeof value === 'object' && value !== null && 'thermometer' in value ? value.thermometer : null;
  return isIdentity(thermometer) ? { thermometer } : NOTHING;
}

function isIdentity(value: unknown): value is PortIdentity {
  if (typeof value !== 'object' || value === null) return false;
  const { vendorId, productId, serialNumber, position, path } = value as Readonly<Record<string, unknown>>;
  const textOrNull = [serialNumber, position].every((field) => field === null || typeof field === 'string');
  return textOrNull && [vendorId, productId, path].every((field) => typeof field === 'string');
}
