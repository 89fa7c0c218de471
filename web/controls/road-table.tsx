/** The road's numbers as a table, for those who hear the page. */
import { useMemo } from 'preact/hooks';
import type { RoadModel } from '../road/model.ts';
import { roadRows } from '../road/rows.ts';
import type { TimeSpan } from '../road/window.ts';
import { ROAD_TABLE } from '../words/road-table.ts';
import { degrees, span } from '../words/measure.ts';
import { MORE } from '../words/more.ts';

export interface RoadTableProps {
  readonly model: RoadModel;
  readonly view: TimeSpan;
  readonly clockOf: (atMs: number) => string;
}

/** Made anew this often, ms (ours: nobody is read a table that changes under the voice). */
const ANEW_MS = 10_000;

export function RoadTable({ model, view, clockOf }: RoadTableProps) {
  const isHeld = model.window.kind === 'span';
  const at = Math.floor(model.nowMs / ANEW_MS);
  const rows = useMemo(
    () => roadRows(model, view),
    [at, model.live, model.fan.length > 0, model.startedAtMs, isHeld && view.fromMs, view.toMs - view.fromMs],
  );
  return (
    <table class="only-spoken">
      <caption>{ROAD_TABLE.caption}</caption>
      <thead>
        <tr>
          {[ROAD_TABLE.from, ROAD_TABLE.to, ROAD_TABLE.lowest, ROAD_TABLE.highest, ROAD_TABLE.last].map((head) => (
            <th scope="col" key={head}>
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.toMs}>
            <th scope="row">
              {row.isForecast ? MORE.within(span((row.toMs - model.nowMs) / 1000)) : clockOf(row.fromMs)}
            </th>
            <td>{clockOf(row.toMs)}</td>
            <td>{figure(row.lowC)}</td>
            <td>{figure(row.highC)}</td>
            <td>{figure(row.endC)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function figure(valueC: number | null): string {
  return valueC === null ? ROAD_TABLE.none : degrees(valueC);
}
