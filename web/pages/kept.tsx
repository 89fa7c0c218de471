/** What is kept: backups with what their check found, one made now, one put back; where it all lies, and how much room there is. */
import { useEffect, useState } from 'preact/hooks';
import { addressOf, type BackupCard, deleteBackup, fetchKept, type Kept, makeBackup, putBack } from '../backups.ts';
import { Button } from '../controls/button.tsx';
import { Link, PlainPage } from '../controls/plain-page.tsx';
import { TwoSteps } from '../controls/two-steps.tsx';
import type { Answer } from '../post.ts';
import { KEPT } from '../words/kept.ts';
import { clock } from '../words/measure.ts';
import { marked } from '../words/manner.ts';
import { ELSEWHERE } from '../words/elsewhere.ts';
import { day } from '../words/day.ts';

export function KeptPage() {
  const [kept, setKept] = useState<Kept | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const [isBusy, setBusy] = useState(false);
  const look = async (): Promise<void> => {
    const answer = await fetchKept();
    if (answer.ok) setKept(answer.value);
    else setSaid(answer.why);
  };
  useEffect(() => void look(), []);
  /** One thing at a time; its outcome is the sentence. */
  const doing = async <Value,>(
    meanwhile: string,
    work: () => Promise<Answer<Value>>,
    done: (value: Value) => string,
  ): Promise<void> => {
    setBusy(true);
    setSaid(meanwhile);
    const answer = await work();
    setSaid(answer.ok ? done(answer.value) : answer.why);
    setBusy(false);
    await look();
  };
  return (
    <PlainPage
      act={KEPT.title}
      detail={said ?? (kept === null ? KEPT.fetching : standsWords(kept))}
      isComing={kept === null && said === null}
      controls={
        <>
          <Button look="solid" disabled={isBusy} onPress={() => void doing(KEPT.making, makeBackup, () => KEPT.made)}>
            {KEPT.make}
          </Button>
          <Link to="#/runs" word={ELSEWHERE.runs} />
        </>
      }
    >
      {kept?.notices.map((words) => (
        <p key={words} class="kept-notice">
          {words}
        </p>
      ))}
      {kept !== null && kept.backups.length > 0 && (
        <ul class="backup-rows" aria-label={KEPT.list}>
          {kept.backups.map((backup) => (
            <BackupRow
              key={backup.name}
              backup={backup}
              isBusy={isBusy}
              onPutBack={() =>
                void doing(
                  KEPT.puttingBack,
                  () => putBack(backup.name),
                  () => KEPT.back,
                )
              }
              onDelete={() =>
                void doing(
                  '',
                  () => deleteBackup(backup.name),
                  () => KEPT.deleted,
                )
              }
            />
          ))}
        </ul>
      )}
      {kept !== null && <Where kept={kept} />}
    </PlainPage>
  );
}

function standsWords({ trouble, backups }: Kept): string {
  if (trouble !== null) return trouble.words;
  const newest = backups.find(({ damage }) => damage === null);
  return newest === undefined ? KEPT.none : KEPT.newest(whenWords(newest.madeAtWall));
}

function BackupRow(props: {
  readonly backup: BackupCard;
  readonly isBusy: boolean;
  readonly onPutBack: () => void;
  readonly onDelete: () => void;
}) {
  const { backup, isBusy, onPutBack, onDelete } = props;
  const when = whenWords(backup.madeAtWall);
  return (
    <li class="backup-row">
      <div class="backup-words">
        <b>{when}</b>
        <span>
          {KEPT.kinds[backup.kind]}, {sizeWords(backup.bytes)}
        </span>
        <span class={backup.damage === null ? '' : 'backup-damaged'}>{checkWords(backup)}</span>
      </div>
      <div class="backup-acts">
        {backup.damage === null && (
          <>
            <a class="button button-plain button-low" href={addressOf(backup.name)} download={backup.name}>
              <span class="button-word">{KEPT.fetch}</span>
            </a>
            <TwoSteps
              word={KEPT.putBack}
              ask={KEPT.askPutBack}
              yes={KEPT.putBackYes}
              no={KEPT.putBackNo}
              disabled={isBusy}
              onYes={onPutBack}
            />
          </>
        )}
        <TwoSteps
          word={KEPT.delete}
          ask={KEPT.askDelete}
          yes={KEPT.deleteYes}
          no={KEPT.deleteNo}
          disabled={isBusy}
          onYes={onDelete}
        />
      </div>
    </li>
  );
}

function checkWords({ damage, kind }: BackupCard): string {
  if (damage !== null) return KEPT.damaged(damage);
  return kind === 'before-restore' ? KEPT.asItWas : KEPT.whole;
}

function Where({ kept }: { readonly kept: Kept }) {
  const { folder, dataBytes, freeBytes, nightsKept, nextNightAtWall } = kept;
  return (
    <section class="kept-where">
      <h2>{KEPT.where}</h2>
      <p>
        {KEPT.folder} <code>{folder}</code>
      </p>
      <p>{KEPT.data(sizeWords(dataBytes))}</p>
      <p>{freeBytes === null ? KEPT.freeUnknown : KEPT.free(sizeWords(freeBytes))}</p>
      <p>{KEPT.nights(nightsKept, whenWords(nextNightAtWall))}</p>
      <p>{KEPT.own}</p>
      <p>{KEPT.elsewhere}</p>
    </section>
  );
}

function whenWords(wall: string): string {
  return KEPT.when(day(wall), clock(wall, 0, 0));
}

const KILO = 1e3;
const MEGA = 1e6;
const GIGA = 1e9;

/** 812 kB · 3.4 MB · 120 GB: as disks are sold, in powers of ten. */
function sizeWords(bytes: number): string {
  if (bytes >= GIGA) return KEPT.giga(figure(bytes / GIGA));
  return bytes >= MEGA ? KEPT.mega(figure(bytes / MEGA)) : KEPT.kilo(String(Math.ceil(bytes / KILO)));
}

function figure(value: number): string {
  return value >= 10 ? String(Math.round(value)) : marked(value.toFixed(1));
}
