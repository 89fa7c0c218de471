/** What may stand between the cells of a table, on its way in or out. */
export const SEPARATORS = { comma: ',', semicolon: ';', tab: '\t' } as const;
export type Separator = keyof typeof SEPARATORS;
