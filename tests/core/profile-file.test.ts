/** Text to profile and exact complaints: file, path, value, rule. The profiles that ship are tested in profiles.test.ts. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { jsonFault } from '../../server/core/record/json-text.ts';
import { nearMiss } from '../../server/core/record/near-miss.ts';
import { complaintText, parseProfile, profileFromJson } from '../../server/core/record/profile-file.ts';

interface Draft {
  [key: string]: unknown;
  phases: Record<string, unknown>[];
}

/** A cooked sugar: nothing here is about chocolate, and the ids are nobody's defaults. */
function syrup(): Draft {
  return {
    id: 'soft-syrup',
    title: 'Syrup for candied ginger',
    coating: 'syrup',
    source: 'ours',
    phases: [
      { id: 'boil_1', heading: 'up', bandC: [104, 106], ceilingC: 110, holdS: 60, cue: 'Boil it down.' },
      { id: 'rest', heading: 'down', bandC: [40, 60], floorC: 35 },
      { id: 'keep', heading: 'hold', bandC: [50, 55], ceilingC: 55, lostAboveC: 55 },
    ],
  };
}

function complaintsAbout(change: (draft: Draft, phase: Record<string, unknown>) => void): string[] {
  const draft = syrup();
  change(draft, draft.phases[2]!);
  const parsed = profileFromJson(draft, 'syrup.json');
  return parsed.ok ? [] : parsed.complaints.map(complaintText);
}

test('a profile of any coating, any ids and any number of phases is read as it stands', () => {
  expect(parseProfile(JSON.stringify(syrup()), 'syrup.json')).toEqual({ ok: true, profile: syrup() });
  expect(complaintsAbout((draft) => draft.phases.splice(1))).toEqual([]);
  expect(complaintsAbout((draft) => draft.phases.push({ id: 'Abkühlen', heading: 'down', bandC: [-20, 200] }))).toEqual(
    [],
  );
});

test('a byte order mark before the text does no harm', () => {
  expect(parseProfile(`\uFEFF${JSON.stringify(syrup())}`, 'syrup.json').ok).toBe(true);
});

describe('each rule has its complaint, with file, path, value and rule', () => {
  const table: readonly (readonly [string, Parameters<typeof complaintsAbout>[0]])[] = [
    ['syrup.json: title: must be a text that is not empty (found "")', (draft) => (draft['title'] = '')],
    ['syrup.json: source: must be a text that is not empty (found nothing)', (draft) => delete draft['source']],
    [
      'syrup.json: id: must be letters and digits, joined by single hyphens, at most 60 (found "../dark")',
      (draft) => (draft['id'] = '../dark'),
    ],
    ['syrup.json: colour: unknown key (found "amber")', (draft) => (draft['colour'] = 'amber')],
    ['syrup.json: onlost: unknown key; did you mean "onLost"? (found "rest")', (draft) => (draft['onlost'] = 'rest')],
    [
      'syrup.json: onLost: must be the id of a phase: boil_1, rest, keep (found "cool")',
      (draft) => (draft['onLost'] = 'cool'),
    ],
    [
      'syrup.json: phases.keep.celingC: unknown key; did you mean "ceilingC"? (found 56)',
      (_, keep) => (keep['celingC'] = 56),
    ],
    [
      'syrup.json: phases.keep.heading: must be "up", "down" or "hold" (found "hodl")',
      (_, keep) => (keep['heading'] = 'hodl'),
    ],
    [
      'syrup.json: phases.keep.bandC: must be [low, high], two numbers from -20 to 200 °C (found nothing)',
      (_, keep) => delete keep['bandC'],
    ],
    [
      'syrup.json: phases.keep.bandC: must be [low, high], two numbers from -20 to 200 °C (found [50,255])',
      (_, keep) => Object.assign(keep, { bandC: [50, 255], ceilingC: undefined, lostAboveC: undefined }),
    ],
    [
      'syrup.json: phases.keep.bandC: the low edge must be under the high edge (found [55,55])',
      (_, keep) => (keep['bandC'] = [55, 55]),
    ],
    [
      "syrup.json: phases.keep.floorC: must not be above the band's low edge, 50 (found 50.1)",
      (_, keep) => (keep['floorC'] = 50.1),
    ],
    [
      "syrup.json: phases.keep.ceilingC: must not be below the band's high edge, 55 (found 54.9)",
      (_, keep) => (keep['ceilingC'] = 54.9),
    ],
    [
      'syrup.json: phases.keep.lostAboveC: must not be below the ceiling, 55 (found 54)',
      (_, keep) => (keep['lostAboveC'] = 54),
    ],
    [
      "syrup.json: phases.keep.lostAboveC: must not be below the band's high edge, 55 (found 54)",
      (_, keep) => (delete keep['ceilingC'], (keep['lostAboveC'] = 54)),
    ],
    [
      'syrup.json: phases.keep.holdS: must be a number of seconds from 0 to 86400 (found -1)',
      (_, keep) => (keep['holdS'] = -1),
    ],
    [
      'syrup.json: phases.keep.floorC: must be a number from -20 to 200 °C (found Infinity)',
      (_, keep) => (keep['floorC'] = Infinity),
    ],
    [
      'syrup.json: phases.keep.ceilingC: must be a number from -20 to 200 °C (found null)',
      (_, keep) => Object.assign(keep, { ceilingC: null }),
    ],
    [
      'syrup.json: phases[2].id: ids must differ: phases[1] has this one already (found "rest")',
      (_, keep) => (keep['id'] = 'rest'),
    ],
    [
      'syrup.json: phases[2].id: must be letters and digits, joined by single hyphens, at most 60 (found "keep.it")',
      (_, keep) => (keep['id'] = 'keep.it'),
    ],
    ['syrup.json: phases: must have at least one phase (found [])', (draft) => (draft.phases = [])],
    [
      'syrup.json: sources.phases.keep.floorC: there is no "phases.keep.floorC" in this profile (found "ours")',
      (draft) => (draft['sources'] = { 'phases.keep.floorC': 'ours', 'phases.keep.bandC': 'ours' }),
    ],
    [
      'syrup.json: sources.phases.keep.bandc: there is no "phases.keep.bandc" in this profile; did you mean "phases.keep.bandC"? (found "ours")',
      (draft) => (draft['sources'] = { 'phases.keep.bandc': 'ours' }),
    ],
    [
      'syrup.json: sources.phases.rest: must be a text that is not empty (found 4)',
      (draft) => (draft['sources'] = { 'phases.rest': 4 }),
    ],
  ];
  test.each(table)('%s', (complaint, change) => {
    const given = complaintsAbout((draft, phase) => {
      change(draft, phase);
      for (const key of Object.keys(phase)) if (phase[key] === undefined) delete phase[key];
    });
    expect(given).toEqual([complaint]);
  });
});

test('everything wrong is told at once, in the order of the file', () => {
  const given = complaintsAbout((draft, keep) => {
    draft['title'] = 7;
    draft.phases[0]!['heading'] = 'north';
    keep['holdS'] = 'long';
    draft['onLost'] = 'nowhere';
  });
  expect(given.map((line) => line.split(': ')[1])).toEqual([
    'title',
    'phases.boil_1.heading',
    'phases.keep.holdS',
    'onLost',
  ]);
});

test('a long wrong value is shown cut short, on one line', () => {
  const [line] = complaintsAbout((draft) => (draft['title'] = ['a\nb'.repeat(100)]));
  expect(line!.length).toBeLessThan(140);
  expect(line).not.toContain('\n');
});

describe('a text that is not JSON', () => {
  const table = [
    ['', 'line 1, column 1: not JSON: a value is expected here (found nothing)'],
    ['{\n  "id": "a",\n}', 'line 3, column 1: not JSON: a name in double quotes is expected here (found })'],
    [
      '{ "id": "a" "title": 3 }',
      'line 1, column 13: not JSON: a comma or a closing } is expected here (found "title": 3 })',
    ],
    ['{ "id" "a" }', 'line 1, column 8: not JSON: a colon is expected here (found "a" })'],
    ['{ "id": "a }', 'line 1, column 9: not JSON: this text is not closed, or not escaped properly (found "a })'],
    ["{ 'id': 3 }", "line 1, column 3: not JSON: a name in double quotes is expected here (found 'id': 3 })"],
    ['[1 2]', 'line 1, column 4: not JSON: a comma or a closing ] is expected here (found 2])'],
    ['{} // done', 'line 1, column 4: not JSON: nothing may follow the value (found // done)'],
    ['{ "a": 01 }', 'line 1, column 9: not JSON: a comma or a closing } is expected here (found 1 })'],
    [
      '{ "ceilingC": 32,\n"ceilingC": 52 }',
      'line 2, column 1: not JSON: "ceilingC" stands twice in the same object (found "ceilingC": 52 })',
    ],
    ['['.repeat(100), `line 1, column 66: not JSON: nested deeper than 64 (found ${'['.repeat(35)})`],
  ];
  test.each(table)('%j is complained about by line and column', (text, complaint) => {
    const parsed = parseProfile(text!, 'bad.json');
    expect(parsed.ok ? [] : parsed.complaints.map(complaintText)).toEqual([`bad.json: ${complaint}`]);
  });
});

describe('properties', () => {
  function isJson(text: string): boolean {
    try {
      JSON.parse(text);
      return true;
    } catch {
      return false;
    }
  }

  test('whatever is JSON to the platform is JSON here, and what is spoilt is spoilt here', () => {
    const spoilt = fc.tuple(
      fc.json({ maxDepth: 3 }),
      fc.nat(),
      fc.constantFrom('', '"', '}', ']', ',', ':', '\\', '0', '-', '.', 'e', '\u0001', ' '),
    );
    fc.assert(
      fc.property(spoilt, ([text, at, put]) => {
        const place = at % (text.length + 1);
        const changed = text.slice(0, place) + put + text.slice(place + 1);
        const fault = jsonFault(changed);
        if (fault === null) expect(isJson(changed)).toBe(true);
        else if (!fault.rule.includes('twice')) expect(isJson(changed)).toBe(false);
      }),
      { seed: 20_261, numRuns: 1500 },
    );
  });

  test('no value throws, and a refusal always says why', () => {
    fc.assert(
      fc.property(fc.anything(), (value) => {
        const parsed = profileFromJson(value, 'any');
        expect(parsed.ok || parsed.complaints.length > 0).toBe(true);
      }),
      { seed: 20_262, numRuns: 2000 },
    );
  });

  test('bounds in order are accepted and any neighbouring pair the wrong way round is refused', () => {
    const five = fc.uniqueArray(fc.integer({ min: -20, max: 200 }), { minLength: 5, maxLength: 5 });
    fc.assert(
      fc.property(five, fc.integer({ min: 0, max: 4 }), (numbers, swap) => {
        const bounds = numbers.sort((a, b) => a - b);
        if (swap < 4) [bounds[swap], bounds[swap + 1]] = [bounds[swap + 1]!, bounds[swap]!];
        const [floorC, low, high, ceilingC, lostAboveC] = bounds;
        const phases = [{ id: 'a', heading: 'hold', bandC: [low, high], floorC, ceilingC, lostAboveC }];
        expect(profileFromJson({ ...syrup(), phases }, 'any').ok).toBe(swap === 4);
      }),
      { seed: 20_263, numRuns: 500 },
    );
  });
});

describe('what somebody probably meant', () => {
  test.each([
    ['celingC', 'ceilingC'],
    ['heasing', 'heading'],
    ['bnadC', 'bandC'],
    ['HOLDS', 'holdS'],
    ['colour', null],
    ['x', null],
  ])('%s: %s', (word, meant) => {
    expect(nearMiss(word, ['id', 'heading', 'bandC', 'ceilingC', 'floorC', 'holdS', 'lostAboveC', 'cue'])).toBe(meant);
  });
});
