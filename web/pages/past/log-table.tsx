/** What happened in a stored run, line by line; each leads the head there. */
import type { RunInfo } from '../../../server/core/show/wire.ts';
import { timeWords } from '../../controls/noted-list.tsx';
import { HEADINGS } from '../../words/headings.ts';
import { clock } from '../../words/measure.ts';
import { elapsed } from '../../words/elapsed.ts';
import type { LogLine } from '../../words/log.ts';
import { PAST } from '../../words/past.ts';

export interface LogTableProps {
  readonly info: RunInfo;
  /** When the run began, feed clock. */
  readonly startMs: number;
  readonly lines: readonly LogLine[];
  /** The line the head stands at; undefined: before the first. */
  readonly atId: string | undefined;
  readonly onMoment: (atMs: number) => void;
}

export function LogTable({ info, startMs, lines, atId, onMoment }: LogTableProps) {
  const clockOf = (atMs: number): string => clock(info.startedAtWall, info.startedAtMs, atMs);
  return (
    <section class="log">
      <table>
        <caption>{HEADINGS.happened}</caption>
        <thead>
          <tr>
            <th scope="col">{HEADINGS.clock}</th>
            <th scope="col">{HEADINGS.into}</th>
            <th scope="col">{HEADINGS.what}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.id} class={`log-${line.weight}`} aria-current={line.id === atId ? 'time' : undefined}>
              <td>
                <button type="button" class="log-go" onClick={() => onMoment(line.atMs)}>
                  {timeWords(line, clockOf)}
                </button>
              </td>
              <td>{line.atMs < startMs ? PAST.before : elapsed(line.atMs - startMs)}</td>
              <td class={line.voice === 'person' ? 'said-by-person' : ''}>{line.text}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
