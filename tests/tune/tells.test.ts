import { expect, it } from 'vitest';
import { tellsOf, worstOf } from '../../src/tune/tells.js';

const told = { recall: { value: 0.5, low: 0.3, high: 0.7, n: 24 } };

it.each([
  [0, 'too little'],
  [7, 'too little'],
  [8, 'hint'],
  [19, 'hint'],
  [20, 'enough'],
] as const)('%d visits tell %s where something can be said of unseen footage', (visits, tells) => {
  expect(tellsOf(visits, told)).toBe(tells);
});

it('is too little where nothing can be said of unseen footage, however many visits there are', () => {
  expect(tellsOf(200, { recall: null })).toBe('too little');
});

it('is the worst of several sites', () => {
  expect(worstOf(['enough', 'hint', 'enough'])).toBe('hint');
  expect(worstOf(['too little', 'enough'])).toBe('too little');
});
