/** What is said in full where something is wrong with the bowl, its course, its thermometer or this screen: see `../trouble.ts`. */
export { alarmSentence, alsoWords, wayOf } from './alarm-words.ts';
export { shortWords, beforeDipWords } from './course-trouble.ts';
export { linkSentence } from './link.ts';
export { REFUSED } from './refused.ts';
