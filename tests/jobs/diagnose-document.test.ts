import { expect, test } from 'vitest';
import { settingsSchema } from '../../src/camera/settings.js';
import { diagnosisDocument } from '../../src/jobs/diagnose/document.js';
import { cures, explained, logPile, unlabelled } from '../report/diagnosis-example.js';

const data = diagnosisDocument({ clips: [logPile, unlabelled], cures, notes: [] });

test('false triggers stand with their clip, triggers of clips without labels apart from them', () => {
  expect(data.falseTriggers).toHaveLength(explained.length);
  expect(data.falseTriggers[0]).toEqual({
    clip: 'log-pile-gusty',
    time: 31,
    cause: 'insect',
    probability: 0.71,
    evidence: 'it is large, blurred and gone within one frame',
    box: [0.4, 0.1, 0.2, 0.3],
  });
  expect(new Set(data.unjudged.map(({ clip }) => clip))).toEqual(new Set(['compost-heap-dusk']));
});

test('missed visits say why and what they need', () => {
  expect(data.missed[0]).toMatchObject({
    clip: 'log-pile-gusty',
    visit: 0,
    why: 'too faint',
    needs: { settings: { version: 1, threshold: 24 }, falseAdded: 14 },
  });
  expect(data.missed[2]?.needs).toBeNull();
});

test('cures are settings that can be used as they stand, proved on the other half', () => {
  expect(
    data.cures.map(({ kind, falseRemoved, visitsLost, provedOn }) => [
      kind,
      falseRemoved,
      visitsLost,
      provedOn,
    ]),
  ).toEqual([
    ['mask', 9, 0, 'other half'],
    ['dial', 7, 1, 'other half'],
  ]);
  for (const { settings } of data.cures) expect(settingsSchema.safeParse(settings).success).toBe(true);
});

test('advice is marked as common practice', () => {
  expect(new Set(data.advice.map(({ restsOn }) => restsOn))).toEqual(new Set(['common practice']));
});
