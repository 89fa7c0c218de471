/** How this viewer wants figures and dates said: the unit, and decimal mark and date as in the viewer's place. Storage and judgement know only °C. */
import { inLanguage } from './language.ts';

export type Unit = 'C' | 'F';

let unit: Unit = 'C';
let mark: '.' | ',' = '.';
/** As the browser names it. */
let place: string | undefined;

export function sayIn(next: Unit): void {
  unit = next;
}

/** `locale`: as the browser names it. A mark that is neither a point nor a comma would not be read as one by our figures. */
export function sayAsIn(locale: string | undefined): void {
  place = locale;
  const decimal = numbersOfPlace()
    .formatToParts(1.5)
    .find(({ type }) => type === 'decimal')?.value;
  mark = decimal === ',' ? ',' : '.';
}

/** Some browsers name a place in a form that they do not take themselves, such as `en-US@posix`: then as they would by default. */
export function numbersOfPlace(): Intl.NumberFormat {
  try {
    return new Intl.NumberFormat(place);
  } catch {
    return new Intl.NumberFormat();
  }
}

export function isFahrenheit(): boolean {
  return unit === 'F';
}

export function unitSign(): string {
  return `°${unit}`;
}

const UNIT_SPOKEN = inLanguage<Readonly<Record<Unit, string>>>({
  en: { C: 'degrees Celsius', F: 'degrees Fahrenheit' },
});

export function unitName(): string {
  return UNIT_SPOKEN[unit];
}

export function decimalMark(): string {
  return mark;
}

/** A temperature in the viewer's unit. */
export function inUnit(valueC: number): number {
  return unit === 'F' ? valueC * 1.8 + 32 : valueC;
}

/** A difference of temperatures, or a rate, in the viewer's unit. */
export function stepInUnit(differenceC: number): number {
  return unit === 'F' ? differenceC * 1.8 : differenceC;
}

/** °C of a value in the viewer's unit. */
export function fromUnit(value: number): number {
  return unit === 'F' ? (value - 32) / 1.8 : value;
}

/** A number with the viewer's decimal mark. */
export function marked(text: string): string {
  return mark === '.' ? text : text.replace('.', mark);
}
