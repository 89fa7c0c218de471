/** What stands on paper: nothing that was not said, nothing that runs, and a count of what was left out. */
import { describe, expect, it } from 'vitest';
import { keptPage } from '../../../server/handover/kept-page.ts';
import { accountOfRun } from '../../../server/handover/paper.ts';
import { runSheet } from '../../../server/handover/run-sheet.ts';
import type { RunEvent } from '../../../server/core/record/event.ts';
import { bound, degrees, figure, PLAIN, shift, span } from '../../../server/handover/manner.ts';
import { ICE_POINT } from '../../support/checked.ts';
import { EMPTY_TALLY, tallied } from '../../../server/store/tally.ts';
import { CARD, toldStory } from '../../support/told.ts';

const HOSTILE = '</style></title><script>alert(1)</script><img src=x onerror=alert(1)>"\'&';

describe('the run sheet', () => {
  it('holds what a batch record needs', () => {
    const { html } = runSheet(toldStory('overshoot-in-rewarm', [[3, 'lumps on the left']]), PLAIN, 'a4');
    for (const words of [
      'Candied ginger, third batch',
      'G-117',
      'milk, soy',
      '19.5 °C, 48 % relative humidity',
      '4 s to 63 % of a step',
      'none: the thermometer is unchecked',
      'lumps on the left',
      'Over the ceiling (limit 32.5 °C)',
      'Signed: Ana',
      'not judged yet',
      'the strip test decides',
    ])
      expect(html).toContain(words);
  });

  it('says of what nobody said that it was not noted, and never that something is free of anything', () => {
    const { html } = runSheet(toldStory('clean-dark', [], []), PLAIN, 'letter');
    expect(html).toContain('<dt>Allergens</dt><dd>not noted</dd>');
    expect(html).not.toMatch(/free/i);
  });

  it('never shortens allergens in silence', () => {
    const allergens = 'milk, soy lecithin, hazelnuts, '.repeat(12);
    const { html } = runSheet(toldStory('clean-dark', [], [{ ...CARD, change: { allergens } }]), PLAIN, 'a4');
    expect(html).toContain(`${allergens.slice(0, 180)}`);
    expect(html).toContain('(there is more: see the file)');
    expect(runSheet(toldStory('clean-dark'), PLAIN, 'a4').html).not.toContain('there is more');
  });

  it('lets no phase of which nobody knows that it was reached be called so, and one that was left by reaching it be', () => {
    const { html } = runSheet(toldStory('clean-dark'), PLAIN, 'a4');
    expect(html).not.toContain('not reached');
  });

  it('and one that was never reached be called so', () => {
    const told = toldStory('not-cooled-enough');
    const { html } = runSheet(told, PLAIN, 'a4');
    const names = [...html.matchAll(/<tr><td>([^<]*)<\/td>/g)].map(([, name]) => name);
    expect(names).toEqual(['Melt', 'Cool, not reached']);
  });

  it('counts no second as in the band in which nothing was read, and says how long that was', () => {
    const told = toldStory('unplugged-while-cooling');
    const [gap] = told.tiles.flatMap(([atMs], i) => {
      const nextMs = told.tiles[i + 1]?.[0] ?? atMs;
      return nextMs - atMs > 30_000 ? [{ fromMs: atMs, toMs: nextMs }] : [];
    });
    const { stays } = accountOfRun(told);
    const cool = stays.find(({ enteredAtMs, lastedS }) => gap!.toMs < enteredAtMs + lastedS * 1000)!;
    expect(cool.unseenS).toBe((gap!.toMs - gap!.fromMs) / 1000 - 1);
    for (const { lastedS, unseenS, insideBandS } of stays) expect(insideBandS).toBeLessThanOrEqual(lastedS - unseenS);
    const rows = [...runSheet(told, PLAIN, 'a4').html.matchAll(/<tr><td>(?:.*?)<\/tr>/g)].map(([row]) =>
      [...row.matchAll(/<td>([^<]*)/g)].map(([, cell]) => cell),
    );
    expect(rows.map((cells) => cells[7])).toEqual(stays.map(({ unseenS: s }) => (s === 0 ? 'never' : span(s * 1000))));
  });

  it('says of each temperature its unit, and writes a minus as one', () => {
    const told = toldStory('overshoot-in-rewarm');
    const changed: RunEvent = {
      seq: 1e6,
      atMs: told.endMs,
      kind: 'correction-changed',
      offsetC: -0.3,
      gain: 1,
    };
    const stored = { ...told.stored, events: [...told.stored.events, changed] };
    const cold = { ...told, stored };
    const { html } = runSheet(cold, PLAIN, 'a4');
    expect(html).toContain('<dt>Last check</dt><dd>none: the thermometer is unchecked</dd>');
    expect(html).toContain('<dt>Uncertainty</dt><dd>not known</dd>');
    expect(html).toContain('<dt>Correction</dt><dd>−0.3 °C</dd>');
    expect(html).toMatch(/Over the ceiling \(limit 32\.5 °C\), [^<]+, furthest \d\d\.\d °C/);
    expect(keptPage(cold, PLAIN, '')).toContain('Correction of the probe: −0.3 °C');
    expect(shift(0.25, { decimal: 'comma', unit: 'f' })).toBe('+0,5 °F');
    expect([degrees(-5, PLAIN), bound(-5, PLAIN), figure(-5, 1, PLAIN)]).toEqual(['−5.0', '−5', '-5']);
  });

  it('says when and how the thermometer was checked, and how far off it may be: bias apart from noise', () => {
    const told = toldStory('clean-dark');
    const beside = { ...ICE_POINT, against: 'thermometer', trueC: 32, readC: 32.7 } as const;
    const check = { checkedAtWall: '2026-11-24T12:00:00.000Z', points: [ICE_POINT, beside] };
    const header = { ...told.header, correction: { offsetC: -0.396, gain: 0.99071 }, check };
    const before = runSheet({ ...told, header }, PLAIN, 'a4').html;
    expect(before).toContain('<dt>Last check</dt><dd>Tuesday 24 November 2026: ice, thermometer</dd>');
    expect(before).toContain('<dt>Uncertainty</dt><dd>±0.3 °C at 32 (k = 2): bias 0.2, noise 0.1</dd>');
    expect(runSheet({ ...told, header }, { decimal: 'comma', unit: 'f' }, 'a4').html).toContain('±0,5 °F at 89,6');

    const typed: RunEvent = { seq: 1e6, atMs: told.endMs, kind: 'correction-changed', offsetC: 0, gain: 1 };
    const stored = { ...told.stored, events: [...told.stored.events, typed] };
    expect(runSheet({ ...told, header, stored }, PLAIN, 'a4').html).toContain('the thermometer is unchecked');
  });

  it('says it of each channel that was checked by itself, as it stood at the end', () => {
    const told = toldStory('clean-dark');
    const check = { checkedAtWall: '2026-11-24T12:00:00.000Z', points: [ICE_POINT] };
    const corrections = { T1: { correction: { offsetC: -0.4, gain: 1 }, check } };
    const header = { ...told.header, corrections };
    const before = runSheet({ ...told, header }, PLAIN, 'a4').html;
    expect(before).toContain('<dt>Last check, T1</dt><dd>Tuesday 24 November 2026: ice</dd>');
    expect(before).not.toContain('the thermometer is unchecked');

    const last = { seq: 1e6, atMs: told.endMs } as const;
    const events: RunEvent[] = [
      ...told.stored.events,
      { ...last, kind: 'correction-changed', offsetC: 0.2, gain: 1, channel: 'T2' },
      { ...last, kind: 'role-changed', channel: '', role: 'chocolate', source: 'usb:spare', lagS: 3.5 },
    ];
    const after = runSheet({ ...told, header, stored: { ...told.stored, events } }, PLAIN, 'a4').html;
    expect(after).toContain('<dt>Last check, T2</dt><dd>none: this channel is unchecked</dd>');
    expect(after).toContain('<dt>Correction, T2</dt><dd>+0.2 °C</dd>');
    expect(after).toContain('<dt>Lag of the probe</dt><dd>3.5 s');
  });

  it('says that a check is none any more where the chocolate came to be another channel', () => {
    const told = toldStory('clean-dark');
    const check = { checkedAtWall: '2026-11-24T12:00:00.000Z', points: [ICE_POINT] };
    const header = { ...told.header, correction: { offsetC: -0.4, gain: 1 }, check };
    const other: RunEvent = { seq: 1e6, atMs: told.endMs, kind: 'role-changed', channel: 'T2', role: 'chocolate' };
    const stored = { ...told.stored, events: [...told.stored.events, other] };
    expect(runSheet({ ...told, header, stored }, PLAIN, 'a4').html).toContain('the thermometer is unchecked');
  });

  it('takes a peak that fell between the columns from the alarm that was told with it', () => {
    const told = toldStory('overshoot-in-rewarm');
    const coarse = { ...told, tiles: told.tiles.filter((_, i) => i % 40 === 0) };
    const [over] = told.view.pastAlarms.filter(({ alarm }) => alarm === 'overshoot');
    const stay = accountOfRun(coarse).stays.find(({ phase }) => phase === over!.phase);
    expect(stay!.highestC).toBe(over!.extremeC);
  });

  it.each(['overshoot-in-rewarm', 'slow-drift-over-ceiling', 'temper-lost-and-recovered'] as const)(
    'goes as far over the working ceiling in %s as the list and the alarm say',
    (story) => {
      const told = toldStory(story);
      const { worstOverC } = told.stored.events.reduce((tally, event) => tallied(tally, [event], []), EMPTY_TALLY);
      const { overByC, overS } = accountOfRun(told);
      expect(overByC).toBeGreaterThan(0);
      expect(overByC).toBe(worstOverC);
      expect(overS).toBeGreaterThan(5);
    },
  );

  it('counts the notes that find no room, and keeps the alarms', () => {
    const many = Array.from({ length: 60 }, (_, at) => [at / 2, `note ${at}`] as const);
    const { html } = runSheet(toldStory('temper-lost-and-recovered', many), PLAIN, 'letter');
    const left = Number(/… (\d+) more in the file/.exec(html)![1]);
    const shown = html.match(/<li class="is-/g)!.length;
    expect(shown + left).toBeGreaterThan(60);
    expect(html).toContain('Temper lost (limit 34 °C)');
  });
});

describe.each(['sheet', 'page'])('whatever people wrote into it: %s', (which) => {
  it('runs nothing and fetches nothing', () => {
    const card = { ...CARD, change: { name: HOSTILE, lot: HOSTILE, allergens: HOSTILE, signedBy: HOSTILE } };
    const told = toldStory('clean-dark', [[3, HOSTILE]], [card]);
    const html = which === 'sheet' ? runSheet(told, PLAIN, 'a4').html : keptPage(told, PLAIN, HOSTILE);
    expect(html).not.toMatch(/<script|<img|<link|<iframe|@import|url\(/i);
    expect(html.match(/<\/style>/g)).toHaveLength(1);
  });
});

describe('the page for keeping', () => {
  it('lets nothing be fetched, and holds the whole run to the byte', () => {
    const html = keptPage(toldStory('clean-dark'), PLAIN, '{"a":"°C 𝄞"}\n');
    expect(html).toContain("default-src 'none'");
    const data = /href="data:application\/jsonl;base64,([^"]+)"/.exec(html)![1]!;
    expect(Buffer.from(data, 'base64').toString('utf8')).toBe('{"a":"°C 𝄞"}\n');
  });
});
