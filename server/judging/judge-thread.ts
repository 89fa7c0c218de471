/** The judging thread: one trace, read from the file piece by piece and judged again, then it ends. It only reads. */
import { parentPort, workerData } from 'node:worker_threads';
import type { RecordedInput } from '../core/record/input.ts';
import type { Profile } from '../core/record/profile.ts';
import { ENGINE_VERSION, type RunHeader } from '../core/record/run.ts';
import { problemOf } from '../store/database.ts';
import { Reader } from '../store/reader.ts';
import { differsFrom, judgeAgain } from './judge.ts';
import type { FromJudge, Judged, Task } from './messages.ts';
import { under } from './under.ts';

function tell(message: FromJudge): void {
  parentPort?.postMessage(message);
}

function judged({ file, run, id, judgedAtWall, profile }: Task): Judged {
  const reader = new Reader(file);
  try {
    const stored = reader.storedRun(run);
    if (stored === null) throw new Error(`there is no run ${run}`);
    const own = stored.header;
    const header: RunHeader = { ...own, engine: ENGINE_VERSION, profile: profile ?? own.profile };
    const { turns } = stored;
    const stepped = reader.eachInput(run, turns);
    const inputs = profile === null ? stepped : allUnder(profile, stepped);
    const second = judgeAgain(header, inputs, (taken) => tell({ kind: 'progress', share: Math.min(1, taken / turns) }));
    const { visits, standing, worstAlarm, worstOverC } = second.tally;
    const judgement = {
      id,
      judgedAtWall,
      header,
      isOwnProfile: profile === null || JSON.stringify(profile) === JSON.stringify(own.profile),
      inputs: second.inputs,
      events: second.events.length,
      differsFromSeq: differsFrom(stored.events, second.events),
      hasLostInputs: stored.lost.length > 0,
      visits,
      standing,
      worstAlarm,
      worstOverC,
    };
    return { judgement, events: second.events, tiles: second.tiles };
  } finally {
    reader.close();
  }
}

function* allUnder(profile: Profile, inputs: Iterable<RecordedInput>): Generator<RecordedInput> {
  for (const input of inputs) yield under(profile, input);
}

try {
  tell({ kind: 'judged', judged: judged(workerData as Task) });
} catch (error) {
  tell({ kind: 'failed', reason: problemOf(error) });
}
