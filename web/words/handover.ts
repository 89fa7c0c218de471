/** What the pages say that hand a run over and bring a file in. */
import { inLanguage, language } from './language.ts';
import { span } from './measure.ts';

/** With its year: what is handed over or brought in may be old. Empty where nobody knows. */
function date(wall: string | null): string {
  const at = new Date(wall ?? NaN);
  return Number.isNaN(at.getTime()) ? '' : new Intl.DateTimeFormat(language, { dateStyle: 'medium' }).format(at);
}

export const HAND_OVER = inLanguage({
  en: {
    title: 'Hand it over.',
    detail: (name: string, wall: string) => `${name}, ${date(wall)}.`,
    fetching: 'Fetching the run.',
    sheet: 'Run sheet',
    sheetIs: 'One page for the batch record, to sign and file.',
    printA4: 'Print on A4',
    printLetter: 'Print on Letter',
    look: 'Look at it',
    blocked: 'This browser opens no window for it. Look at the sheet, and print it from there.',
    picture: 'Picture',
    pictureIs: 'The curve with its phases, notes and alarms.',
    svg: 'Save as lines, SVG',
    png: 'Save as points, PNG',
    noPng: 'This browser can’t make points of it. Save it as lines.',
    page: 'One file to keep',
    pageIs: 'Opens in any browser without Bowlside and without a network; the whole run is in it.',
    savePage: 'Save the page',
    spreadsheet: 'Table for a spreadsheet',
    spreadsheetIs: 'Figures as they are written here, with phases, notes and alarms.',
    separated: 'Cells apart by',
    separators: { comma: 'comma', semicolon: 'semicolon', tab: 'tab' },
    saveTable: 'Save the table',
    programs: 'For programs',
    programsAre: 'The whole run to be brought in elsewhere, the same to the byte; or its curve alone.',
    saveRun: 'Save the run',
    saveCurve: 'Save the curve',
    back: 'Back to the run',
  },
});

export const BRING_IN = inLanguage({
  en: {
    title: 'Bring in a file.',
    detail: 'A run from another Bowlside, or a table of times and temperatures.',
    choose: 'Choose a file',
    another: 'Choose another file',
    reading: 'Reading it.',
    out: { look: 'Reading it.', take: 'Taking it in.' },
    isRun: (name: string) => `A run: ${name}.`,
    isTrace: (name: string) => `A trace: ${name}. It will be judged anew.`,
    runDetail: (wall: string | null, lastedS: number) =>
      [date(wall), span(lastedS)].filter((part) => part !== '').join(', ') + '.',
    holds: (inputs: number, events: number, notes: number) =>
      `${inputs} inputs, ${events} events, ${notes === 1 ? 'one note' : `${notes} notes`}.`,
    isHere: 'It is here already.',
    nothingChanged: 'Among your runs, or in the bin. Bringing it in again would change nothing.',
    isTable: 'A table. Is this how it is meant?',
    isOurs: 'A table with our columns.',
    tableDetail: (readings: number, lastedS: number) => `${readings} readings over ${span(lastedS)}.`,
    first: 'The first rows',
    time: 'Time',
    temperature: 'Temperature',
    neither: 'not used',
    column: (number: number) => `Column ${number}`,
    apart: 'Cells apart by',
    decimal: 'Decimal mark',
    decimals: { point: 'point, 31.4', comma: 'comma, 31,4' },
    counted: 'Time is in',
    forms: {
      s: 'seconds',
      min: 'minutes',
      elapsed: 'hours:minutes:seconds since the start',
      clock: 'time of day',
      date: 'date and time',
    },
    unit: 'Temperature is in',
    units: { c: '°C', f: '°F' },
    profile: 'Judge it under',
    name: 'Call it',
    began: 'It began',
    take: 'Bring it in',
    open: 'Open it',
    done: 'It is here.',
    doneDetail: 'With your other runs, marked as brought in.',
    notTaken: 'Not brought in.',
    notRead: 'The file can’t be read any more. Choose it again.',
    noProfiles: (why: string) => `The profiles aren’t here. ${why}`,
    changed: 'It is read as it was before; what you chose since then was not looked at.',
    lookAgain: 'Look again',
    tooLarge: 'It is larger than 64 MB.',
  },
});
