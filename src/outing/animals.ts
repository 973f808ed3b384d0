/** Centimetres from bill to tail, of mammals head and body without the tail. */
export interface AnimalLength {
  /** In the middle of what is common. */
  value: number;
  low: number;
  high: number;
  source: 'bird guides' | 'mammal guides' | 'from memory';
}

/** How long animals of a garden are, by guides or, where it says so, from memory and not looked up. */
export const animalLengths: Readonly<Record<string, AnimalLength>> = {
  wren: { value: 9.5, low: 9, high: 10, source: 'from memory' },
  'house sparrow': { value: 14.5, low: 14, high: 15, source: 'from memory' },
  starling: { value: 21, low: 19, high: 23, source: 'bird guides' },
  blackbird: { value: 24.5, low: 23.5, high: 29, source: 'bird guides' },
  moorhen: { value: 33.5, low: 30, high: 35, source: 'bird guides' },
  'wood pigeon': { value: 41, low: 40, high: 42, source: 'from memory' },
  'wood mouse': { value: 9.5, low: 8.5, high: 10.5, source: 'mammal guides' },
  hedgehog: { value: 25, low: 20, high: 30, source: 'mammal guides' },
  'red fox': { value: 67, low: 62, high: 72, source: 'from memory' },
};
