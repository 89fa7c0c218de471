/** All that may be asked of the server, in one list: what `web-app.ts` answers is what is described. */
import { type BenchNeeds, benchRoutes } from './bench.ts';
import { binRoutes } from './bin.ts';
import { type BackupNeeds, backupRoutes } from './backups.ts';
import { type BowlNeeds, bowlRoutes } from './bowls.ts';
import { cardRoutes } from './card.ts';
import { curveRoutes } from './curve.ts';
import { type ExportNeeds, exportRoutes } from './exports.ts';
import { withDescription } from './description.ts';
import { type HealthNeeds, healthRoutes } from './health.ts';
import { type HeardNeeds, heardRoutes } from './heard.ts';
import { type ImportNeeds, importRoutes } from './imports.ts';
import { type JudgementNeeds, judgementRoutes } from './judgements.ts';
import { type PairingNeeds, pairingRoutes } from './pairing.ts';
import { probeRoutes } from './probe.ts';
import { type ProfileNeeds, profileRoutes } from './profiles.ts';
import type { Route } from './route.ts';
import { type RunNeeds, runRoutes } from './runs.ts';
import { type ThermometerNeeds, thermometerRoutes } from './thermometers.ts';

export type RouteNeeds = BackupNeeds &
  BenchNeeds &
  BowlNeeds &
  ExportNeeds &
  HealthNeeds &
  HeardNeeds &
  ImportNeeds &
  JudgementNeeds &
  PairingNeeds &
  ProfileNeeds &
  RunNeeds &
  ThermometerNeeds;

export function allRoutes(needs: RouteNeeds): Route[] {
  return withDescription([
    ...healthRoutes(needs),
    ...bowlRoutes(needs),
    ...heardRoutes(needs),
    ...benchRoutes(needs),
    ...probeRoutes(needs),
    ...thermometerRoutes(needs),
    ...profileRoutes(needs),
    ...runRoutes(needs),
    ...curveRoutes(needs),
    ...cardRoutes(needs),
    ...binRoutes(needs),
    ...exportRoutes(needs),
    ...importRoutes(needs),
    ...judgementRoutes(needs),
    ...backupRoutes(needs),
    ...pairingRoutes(needs),
  ]);
}
