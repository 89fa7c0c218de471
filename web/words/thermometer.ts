/** What is said of the thermometer's port: which there are, and what it may be asked. */
import { inLanguage } from './language.ts';

export const THERMOMETER = inLanguage({
  en: {
    title: 'The thermometer.',
    fetching: 'Asking how it stands.',
    ports: 'Plugged in',
    restarts: 'Opening a port can restart what is plugged in there.',
    noOther: 'No USB serial port but the one that is read.',
    others: 'Built in, or over Bluetooth',
    noOthers: 'There are none.',
    showAll: 'Show all ports',
    speaksWhenAsked: 'Does it speak only when asked?',
    nothingSent:
      'Nothing is sent to it until you choose a question. It is then asked once a second, and whenever you plug it in.',
    question: 'Question',
    questionHint: 'As its leaflet has it; these four are usual with laboratory instruments.',
    end: 'Line end',
    ends: { lf: 'LF', crlf: 'CR LF', cr: 'CR' } as Readonly<Record<'lf' | 'crlf' | 'cr', string>>,
    ask: 'Ask it',
    isAsked: (question: string) => `It is asked “${question}” once a second.`,
    stop: 'Stop asking',
  },
});
