import { expect, it } from 'vitest';
import { tellingPlaces } from '../../src/jobs/ports.js';

it('a phase of a clip tells which of how many it is, any other and that of a single clip do not', () => {
  const said: string[] = [];
  const ports = { onPhase: (what: string) => said.push(what) };
  const told = tellingPlaces(ports, ['calm', 'calm-2']);
  for (const what of ['calm-2: reading frames', 'calm: drawing', 'trying cures']) told.onPhase(what);
  tellingPlaces(ports, ['calm']).onPhase('calm: reading frames');
  expect(said).toEqual([
    'clip 2 of 2, calm-2: reading frames',
    'clip 1 of 2, calm: drawing',
    'trying cures',
    'calm: reading frames',
  ]);
});
