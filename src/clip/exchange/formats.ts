import type { ExchangeFormat } from './format.js';

/** The open formats there are, by the word they are asked for with. Each is loaded only where it is wanted. */
const formats = {
  'camtrap-dp': async () => (await import('./camtrap/camtrap.js')).camtrapDp,
  webvtt: async () => (await import('./webvtt/webvtt.js')).webVtt,
} satisfies Record<string, () => Promise<ExchangeFormat>>;

export type FormatName = keyof typeof formats;
export const formatNames = Object.keys(formats) as FormatName[];

export function formatNamed(name: FormatName): Promise<ExchangeFormat> {
  return formats[name]();
}
