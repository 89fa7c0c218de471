/**
 * What a receiver makes of a sender's bytes when both run at different speeds: 8 data bits, no parity, one stop bit, lowest bit first,
 * sampled in the middle of each bit (the usual way of asynchronous serial receivers; no noise).
 */

/** One piece of time on the wire: a level, for so many seconds. */
interface Level {
  readonly untilS: number;
  readonly high: boolean;
}

/** The line is high while nobody speaks. */
const START_AND_DATA_AND_STOP = 10;

/** `gapS`: quiet after each burst; bursts are sent one byte close upon the other. */
export function received(
  bursts: readonly Uint8Array[],
  sentBaud: number,
  heardBaud: number,
  gapS = 0.25,
): Uint8Array[] {
  return bursts.map((burst) => receivedBurst(levelsOf(burst, sentBaud, gapS), heardBaud));
}

function levelsOf(bytes: Uint8Array, baud: number, gapS: number): Level[] {
  const levels: Level[] = [];
  let atS = 0;
  for (const byte of bytes) {
    const bits = [false, ...Array.from({ length: 8 }, (_, bit) => ((byte >> bit) & 1) === 1), true];
    for (const high of bits) levels.push({ untilS: (atS += 1 / baud), high });
  }
  levels.push({ untilS: atS + gapS, high: true });
  return levels;
}

function receivedBurst(levels: readonly Level[], baud: number): Uint8Array {
  const endS = levels.at(-1)!.untilS;
  let at = 0;
  const highAt = (timeS: number): boolean => {
    while (at < levels.length - 1 && levels[at]!.untilS <= timeS) at++;
    return levels[at]!.high;
  };
  const bytes: number[] = [];
  for (let timeS = 0; timeS < endS;) {
    if (highAt(timeS)) {
      // Asleep until the level falls: the next start bit.
      timeS = levels[at]!.untilS;
      continue;
    }
    let byte = 0;
    for (let bit = 0; bit < 8; bit++) if (highAt(timeS + (bit + 1.5) / baud)) byte |= 1 << bit;
    bytes.push(byte);
    timeS += (START_AND_DATA_AND_STOP - 0.5) / baud;
    // A stop bit that is low is a framing error; a receiver waits for the level to rise before it looks for the next start.
    while (timeS < endS && !highAt(timeS)) timeS = levels[at]!.untilS;
  }
  return Uint8Array.from(bytes);
}
