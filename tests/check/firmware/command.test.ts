import { afterEach, describe, expect, it, vi } from 'vitest';
import { wordsOf } from '../../../src/check/firmware/command.js';

afterEach(() => vi.unstubAllEnvs());

describe('a command line', () => {
  it.each<[string, string[]]>([
    ['node firmware.js --board 2', ['node', 'firmware.js', '--board', '2']],
    ['  ./firmware  ', ['./firmware']],
    [`"my firmware/run" 'a b' c\\ d ""`, ['my firmware/run', 'a b', 'c d', '']],
    [`sh -c 'a | b > "c d"; it\\'`, ['sh', '-c', 'a | b > "c d"; it\\']],
    ['run $BOARD "$BOARD"s \'$BOARD\' $NONE', ['run', 'pi', 'pis', '$BOARD', '']],
  ])('%s is read as a shell reads it', (command, words) => {
    vi.stubEnv('BOARD', 'pi');
    expect(wordsOf(command)).toEqual(words);
  });

  it.each<[string, RegExp]>([
    ['', /expected a program and its words, found none/],
    ['   ', /found none/],
    ['""', /found none/],
    ['a | b', /found "\|", which takes a shell/],
    ['a > b', /found ">", which/],
    ['a && b', /found "&&", which/],
    ['a *.js', /found "\*\.js", which/],
    ['a # b', /found "#", which/],
    ['node "my firmware.js', /expected quotation marks in pairs/],
    ["it's", /expected quotation marks in pairs/],
  ])('%s is refused', (command, message) => {
    expect(() => wordsOf(command)).toThrow(message);
  });
});
