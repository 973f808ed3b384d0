import { expect, test } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { cameraSchema } from '../../src/camera/description.js';
import { resolveSettings } from '../../src/camera/settings.js';
import { filesOf, settingsFile } from '../../src/jobs/tune/files-of.js';
import type { SiteResult } from '../../src/jobs/tune.js';
import { smallCamera } from '../support/clips.js';

const settings = { threshold: 24, minimumArea: 50, mostChanged: 20_000, persistence: 1, cooldown: 10 };
const choice = { settings };
const site = (name: string | null, more: object = {}) =>
  ({
    site: name,
    tells: 'enough',
    recommended: choice,
    byCondition: [
      { condition: 'low light', choice },
      { condition: 'rain', choice: null },
    ],
    ...more,
  }) as unknown as SiteResult;

test('each site has a file for all weather and one for each that has a choice', () => {
  const stems = filesOf([site('Log pile'), site(null), site('log-pile')]).map(({ groups }) =>
    groups.map(({ stem }) => stem),
  );
  expect(stems).toEqual([
    ['log-pile', 'log-pile-low-light'],
    ['settings', 'settings-low-light'],
    ['log-pile-2', 'log-pile-2-low-light'],
  ]);
});

test('where there is too little to tell nothing is written', () => {
  expect(filesOf([site('shed', { tells: 'too little' })])[0]?.groups).toEqual([]);
});

test('dials stand as positions', () => {
  expect(settingsFile(settings, defaultCamera)).toEqual({
    version: 1,
    controls: { sensitivity: 8, minimumArea: 50, mostChanged: 20_000, persistence: 1, cooldown: 10 },
  });
});

test('a file gives the settings again that it was made from, mask and values without a dial too', () => {
  const mask: [number, number][][] = [
    [
      [0, 0],
      [1, 0],
      [0, 1],
    ],
  ];
  const camera = cameraSchema.parse({
    ...smallCamera,
    controls: { sensitivity: { sets: 'threshold', choices: [10, 20] } },
  });
  const odd = { threshold: 13, minimumArea: 16, mostChanged: 640, persistence: 2, cooldown: 3, mask };
  const { warnings: _, ...read } = resolveSettings(settingsFile(odd, camera), camera, 'x.json');
  expect(read).toEqual(odd);
});
