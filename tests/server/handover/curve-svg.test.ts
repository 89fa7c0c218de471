/** The picture of a run: nothing in it touches what it should not, and it says all it shows. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placedLabels, spread, widthOf } from '../../../server/handover/curve-labels.ts';
import { type CurveScale, curveScale } from '../../../server/handover/curve-scale.ts';
import { curveSvg, type PictureOptions } from '../../../server/handover/curve-svg.ts';
import { storyNames } from '../../support/fixtures.ts';
import { toldStory } from '../../support/told.ts';

const FRAME = { left: 0, right: 800, top: 0, bottom: 200 };
const OPTIONS: PictureOptions = { decimal: 'point', unit: 'c', width: 1_000, height: 520, isTitled: true };

describe('words over the picture', () => {
  it('never lie on one another, nor on the stalk of another, nor outside', () => {
    const marks = fc.array(
      fc.record({ x: fc.integer({ min: 44, max: 882 }), text: fc.string({ minLength: 1, maxLength: 60 }) }),
      {
        maxLength: 60,
      },
    );
    fc.assert(
      fc.property(marks, fc.integer({ min: 1, max: 6 }), (some, rows) => {
        const labels = placedLabels(some, 13, 996, rows);
        expect(labels.length).toBeGreaterThanOrEqual(Math.min(1, some.length));
        for (const label of labels) {
          expect(label.row).toBeLessThan(rows);
          expect(label.x + widthOf(label.text, 13)).toBeLessThanOrEqual(996);
          // Of marks of the same moment one stalk goes past the beginning of the other's words.
          const isInTheWay = (other: typeof label): boolean =>
            other.x < label.x + label.width &&
            (other.row === label.row ? other.x >= label.x : other.row > label.row && other.x > label.x);
          const inTheWay = labels.filter((other) => other !== label && isInTheWay(other));
          expect(inTheWay).toEqual([]);
        }
      }),
      { seed: 4330 },
    );
  });

  it('that find no room are counted, none is lost', () => {
    const marks = Array.from({ length: 40 }, (_, at) => ({ x: 300 + at, text: 'stirred again' }));
    const labels = placedLabels(marks, 13, 996, 4);
    const counted = labels.reduce((sum, { text }) => sum + 1 + Number(/\+(\d+)$/.exec(text)?.[1] ?? 0), 0);
    expect(counted).toBe(40);
    // The words stay whole, however short they are.
    expect(labels.at(-1)!.text).toBe('stirred again +36');
    const short = Array.from({ length: 20 }, (_, at) => ({ x: 300 + at, text: 'stir' }));
    expect(placedLabels(short, 13, 996, 2).map(({ text }) => text)).toEqual(['stir', 'stir +18']);
    const named = [
      { x: 300, text: 'a' },
      { x: 301, text: 'b' },
      { x: 302, text: 'strip test good' },
    ];
    expect(placedLabels(named, 13, 996, 1).map(({ text }) => text)).toEqual(['strip test good +2']);
  });

  it('beside one another keep apart, and above the ground', () => {
    expect(spread([10, 12, 40], 14, 100)).toEqual([10, 24, 40]);
    expect(spread([90, 92, 95], 14, 100)).toEqual([72, 86, 100]);
  });
});

describe('the picture of a run', () => {
  const notes = [
    [3, 'lumps <b>&"\'\u0000 left'],
    [20, 'tray 2'],
  ] as const;

  it.each(storyNames())('is whole, stands alone and has its content in words: %s', (story) => {
    const svg = curveSvg(toldStory(story, notes), OPTIONS);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(svg).not.toMatch(/<(?:script|style|image|use|foreignObject)|href|url\(|\sstyle=/);
    expect(svg).toMatch(/<title>Candied ginger, third batch, lot G-117, /);
    expect(svg).toMatch(
      /<desc>Temperature of the chocolate from \d\d:\d\d for .*lumps &lt;b&gt;&amp;&quot;&#39;\? left/,
    );
  });

  it('names every bound of the phase at its end, and the phases on the rail', () => {
    const svg = curveSvg(toldStory('temper-lost-and-recovered'), OPTIONS);
    for (const words of [
      'temper lost 34',
      'ceiling 32.5',
      '31 to 32',
      'floor 30.5',
      'ceiling 52',
      'Melt',
      'Cool',
      'Work',
    ])
      expect(svg).toContain(`>${words}</text>`);
  });

  it('is drawn in °F and with a decimal comma for those who read so', () => {
    const svg = curveSvg(toldStory('clean-dark'), { ...OPTIONS, unit: 'f', decimal: 'comma' });
    expect(svg).toContain('>ceiling 90,5</text>');
    expect(svg).toContain('>°F</text>');
  });

  it('shows a gap as a gap: no line goes across', () => {
    const svg = curveSvg(toldStory('unplugged-while-cooling'), { ...OPTIONS, height: 400 });
    expect(svg).toContain('>no reading</text>');
    expect(svg.match(/fill="none" stroke="#0a3a86"/g)).toHaveLength(2);
  });

  it('draws the work once more, larger, where there is room for it, and what is in it is all there', () => {
    const told = toldStory('overshoot-in-rewarm', [[20, 'tray 2']]);
    const svg = curveSvg(told, { ...OPTIONS, height: 640 });
    expect(svg).toContain('>Work, drawn larger</text>');
    expect(svg.match(/>ceiling 32\.5<\/text>/g)).toHaveLength(2);
    expect(curveSvg(told, { ...OPTIONS, height: 400 })).not.toContain('drawn larger');
    const work = told.view.visits.at(-1)!;
    const [whole, near] = [undefined, work].map((only) => curveScale(told, FRAME, only));
    expect([near!.startMs, near!.endMs]).toEqual([work.enteredAtMs, told.endMs]);
    const degreeHigh = ({ lowC, highC, top, bottom }: CurveScale): number => (bottom - top) / (highC - lowC);
    expect(degreeHigh(near!) / degreeHigh(whole!)).toBeGreaterThan(6);
    const read = told.tiles.flatMap(([atMs, lowC, highC]) => (atMs < work.enteredAtMs ? [] : [lowC, highC]));
    const shown = [30.5, 34, ...read.filter((valueC) => valueC !== null)];
    expect(shown.filter((valueC) => valueC <= near!.lowC || valueC >= near!.highC)).toEqual([]);
  });

  it('draws nothing larger of a run that was all work, or of one that never came to it', () => {
    const cooling = toldStory('clean-dark');
    const [melt, cool] = cooling.view.visits;
    const unworked = { ...cooling, view: { ...cooling.view, visits: [melt!, cool!] } };
    expect(curveSvg(unworked, { ...OPTIONS, height: 640 })).not.toContain('drawn larger');
    const work = { ...cooling, view: { ...cooling.view, visits: cooling.view.visits.slice(-1) } };
    expect(curveSvg(work, { ...OPTIONS, height: 640 })).not.toContain('drawn larger');
    expect(curveSvg(cooling, { ...OPTIONS, height: 640 })).toContain('drawn larger');
  });

  it.each([400, 520, 640])('has the name of a ceiling clear of its teeth, %s high', (height) => {
    const svg = curveSvg(toldStory('clean-dark'), { ...OPTIONS, height });
    const [, nameY] = /<text x="[\d.]+" y="([\d.]+)"[^>]*>ceiling 52</.exec(svg)!;
    const [, lineY] = /<path d="M44 ([\d.]+)L[\d. ]+M[^"]*" stroke="#111111" stroke-width="2" fill/.exec(svg)!;
    expect(Number(lineY) - Number(nameY)).toBeGreaterThanOrEqual(8);
  });

  it('says under its axes what its lines and signs stand for, inside of the picture', () => {
    const svg = curveSvg(toldStory('clean-dark'), OPTIONS);
    for (const words of ['our estimate of the chocolate', 'what was read, lowest to highest', 'act or note', 'alarm']) {
      const [, x] = new RegExp(`<text x="([\\d.]+)"[^>]*>${words}</text>`).exec(svg)!;
      expect(Number(x) + words.length * 9).toBeLessThan(OPTIONS.width);
    }
  });
});
