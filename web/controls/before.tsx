/** Before the work: one picture of where the tip belongs, and whether room and thermometer are fit. Asks for nothing; holds nothing up. */
import { useState } from 'preact/hooks';
import type { CheckInfo } from '../../server/core/show/wire.ts';
import { keep, kept } from '../kept.ts';
import { typedNumber } from '../room.ts';
import { checkedWords } from '../words/belief.ts';
import { CheckLink } from './check-link.tsx';
import { BEFORE, roomLabel, roomWords, uncheckedWords } from '../words/before.ts';
import { fromUnit, inUnit } from '../words/manner.ts';

export interface BeforeProps {
  /** What a channel in the room measures, °C; null: there is none, and it is typed. */
  readonly roomC: number | null;
  /** What a check of the thermometer says; null: it is unchecked; undefined: there is none to check. */
  readonly check: CheckInfo | null | undefined;
}

export function Before({ roomC, check }: BeforeProps) {
  return (
    <section class="before" aria-labelledby="before">
      <h2 id="before">{BEFORE.title}</h2>
      <div class="before-tip">
        <TipPicture />
        <div>
          <p>
            <b>{BEFORE.probe}</b>
          </p>
          <p>{BEFORE.clean}</p>
        </div>
      </div>
      {check !== undefined && (
        <>
          <p class="before-unchecked">{check === null ? uncheckedWords() : checkedWords(check)}</p>
          <CheckLink check={check} />
        </>
      )}
      <RoomFit measuredC={roomC} />
    </section>
  );
}

/** What was typed of the room, as it was typed. */
interface Typed {
  readonly room: string;
  readonly humidity: string;
}

const KEPT = 'room';
const NOTHING: Typed = { room: '', humidity: '' };
/** What a room and its air can be: °C, per cent. Others are slips of the finger. */
const ROOM_C = [-10, 50] as const;
const HUMIDITY = [1, 100] as const;

function RoomFit({ measuredC }: { readonly measuredC: number | null }) {
  const [typed, setTyped] = useState(() => kept(KEPT, isTyped, NOTHING));
  const change = (part: Partial<Typed>): void => {
    const next = { ...typed, ...part };
    keep(KEPT, next);
    setTyped(next);
  };
  const typedRoom = typedNumber(typed.room, [inUnit(ROOM_C[0]), inUnit(ROOM_C[1])]);
  const roomC = measuredC ?? (typedRoom === null ? null : fromUnit(typedRoom));
  const words = roomC === null ? [] : roomWords(roomC, typedNumber(typed.humidity, HUMIDITY));
  return (
    <div class="before-room">
      {measuredC === null && (
        <label>
          {roomLabel()}
          <input
            type="text"
            inputMode="decimal"
            autocomplete="off"
            value={typed.room}
            onInput={(event) => change({ room: event.currentTarget.value })}
          />
        </label>
      )}
      <label>
        {BEFORE.humidity}
        <input
          type="text"
          inputMode="decimal"
          autocomplete="off"
          value={typed.humidity}
          onInput={(event) => change({ humidity: event.currentTarget.value })}
        />
      </label>
      <div class="before-words" role="status">
        {measuredC !== null && <p>{BEFORE.measured}</p>}
        {words.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </div>
  );
}

function isTyped(value: unknown): value is Typed {
  if (typeof value !== 'object' || value === null) return false;
  const { room, humidity } = value as Readonly<Record<string, unknown>>;
  return typeof room === 'string' && typeof humidity === 'string';
}

/** A bowl cut through, chocolate as the lane of the map, the probe upright in its middle with its depth beside it. */
function TipPicture() {
  return (
    <svg class="tip-picture" viewBox="0 0 260 180" role="img" aria-label={BEFORE.picture}>
      <path class="tip-chocolate" d="M24 74h212c-8 56-48 84-106 84s-98-28-106-84z" />
      <path class="tip-bowl" d="M6 52h14c4 70 44 112 110 112s106-42 110-112h14" />
      <path class="tip-surface" d="M24 74h97M139 74h97" />
      <path class="tip-probe" d="M130 4v106" />
      <circle class="tip-end" cx="130" cy="112" r="7" />
      <path class="tip-depth" d="M154 76v36M147 83l7-7 7 7M147 105l7 7 7-7M140 112h24" />
      <text class="tip-word" x="168" y="101">
        {BEFORE.deep}
      </text>
      <path class="tip-clear" d="M118 112H52M60 105l-8 7 8 7" />
    </svg>
  );
}
