/** What is said of a course that will not do, in the reader's language. */
import * as en from './en/course-trouble.ts';
import { inLanguage } from './language.ts';

export const { shortWords, beforeDipWords } = inLanguage({ en });
