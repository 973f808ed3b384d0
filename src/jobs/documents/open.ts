import { z } from 'zod';

/** open --json */
export const openSchema = z.strictObject({
  address: z.string().describe('of the page, for this machine alone; whoever has it may use the workbench'),
});

/** What is printed. */
export type OpenDocument = z.output<typeof openSchema>;
