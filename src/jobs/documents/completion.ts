import { z } from 'zod';

export const shells = ['bash', 'zsh', 'fish'] as const;

/** completion --json */
export const completionSchema = z.strictObject({
  shell: z.enum(shells),
  script: z.string().describe('to be run by that shell when it starts'),
});

/** What is printed. */
export type CompletionDocument = z.output<typeof completionSchema>;
