/** All that may be asked of the server, in one list: what `http.ts` answers is what is described. */
import { type BenchNeeds, benchRoutes } from './routes/bench.ts';
import { binRoutes } from './routes/bin.ts';
import { type BackupNeeds, backupRoutes } from './routes/backups.ts';
import { type BowlNeeds, bowlRoutes } from './routes/bowls.ts';
import { cardRoutes } from './routes/card.ts';
import { curveRoutes } from './routes/curve.ts';
import { type ExportNeeds, exportRoutes } from './routes/exports.ts';
import { withDescription } from './routes/description.ts';
import { type HealthNeeds, healthRoutes } from './routes/health.ts';
import { type HeardNeeds, heardRoutes } from './routes/heard.ts';
import { type ImportNeeds, importRoutes } from './routes/imports.ts';
import { type JudgementNeeds, judgementRoutes } from './routes/judgements.ts';
import { type PairingNeeds, pairingRoutes } from './routes/pairing.ts';
import { probeRoutes } from './routes/probe.ts';
import { type ProfileNeeds, profileRoutes } from './routes/profiles.ts';
import type { Route } from './routes/route.ts';
import { type RunNeeds, runRoutes } from './routes/runs.ts';
import { type ThermometerNeeds, thermometerRoutes } from './routes/thermometers.ts';

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
