/** What the bowl's page says of this screen: how to leave the far view, and that it may go dark. */
import { inLanguage } from './language.ts';

export const SCREEN = inLanguage({
  en: {
    near: 'Near view',
    mayGoDark: 'This screen may go dark. Turn off auto-lock.',
  },
});
