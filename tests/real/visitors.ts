/**
 * People of data/vtest.avi (opencv-doc, Debian package) who stand in for wrens, and where they are pasted into the
 * foliage of data/tree.avi. Where they walk was read off the frames by eye.
 */
export interface Visitor {
  /** First and last frame cut out of vtest.avi, 10 a second. */
  frames: readonly [number, number];
  /** Middle of the figure in each of the two, pixels of 768x576; in between it walks straight on. */
  middle: readonly [readonly [number, number], readonly [number, number]];
  /** Height of the figure, pixels of 768x576. */
  height: number;
  /** Frame of the pasted sequence at which it comes into view ... */
  appears: number;
  /** ... and its middle there, pixels of 320x240. */
  place: readonly [number, number];
}

export const visitors: readonly Visitor[] = [
  // In black, over the dark crown.
  {
    frames: [0, 16],
    middle: [
      [270, 265],
      [362, 243],
    ],
    height: 90,
    appears: 14,
    place: [82, 60],
  },
  // Walks away from the lens.
  {
    frames: [80, 104],
    middle: [
      [583, 236],
      [614, 188],
    ],
    height: 90,
    appears: 37,
    place: [150, 140],
  },
  // In view for just over a second.
  {
    frames: [212, 224],
    middle: [
      [666, 354],
      [571, 344],
    ],
    height: 117,
    appears: 82,
    place: [205, 60],
  },
  {
    frames: [240, 264],
    middle: [
      [682, 326],
      [526, 291],
    ],
    height: 105,
    appears: 97,
    place: [120, 190],
  },
  // At the edge of the leaves, before white sky.
  {
    frames: [360, 384],
    middle: [
      [548, 240],
      [701, 265],
    ],
    height: 96,
    appears: 150,
    place: [235, 130],
  },
  // In red, among green.
  {
    frames: [440, 456],
    middle: [
      [632, 305],
      [546, 280],
    ],
    height: 98,
    appears: 166,
    place: [90, 130],
  },
  // Stands still.
  {
    frames: [560, 580],
    middle: [
      [656, 359],
      [654, 359],
    ],
    height: 109,
    appears: 230,
    place: [180, 100],
  },
  {
    frames: [640, 664],
    middle: [
      [360, 455],
      [294, 415],
    ],
    height: 140,
    appears: 281,
    place: [70, 200],
  },
];
