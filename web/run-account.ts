/** The account of a stored run as its page makes it. */
import type { Account } from '../server/core/show/account.ts';
import { accountOfColumns } from '../server/core/show/account-curve.ts';
import type { View } from '../server/core/show/view.ts';
import { openPlayback, viewAt } from './playback.ts';
import type { OpenedRun } from './fetched.ts';

export function accountOfRun(run: OpenedRun, view: View = viewAt(run, Infinity)): Account {
  return accountOfColumns(run.info.profile, view, run.tiles, openPlayback(run).endMs);
}
