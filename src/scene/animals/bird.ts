import { type Colour, scaled, screen } from '../colour.js';
import type { Part } from './sprite.js';

/** Plumage and build of a bird. */
export interface BirdLook {
  back: Colour;
  wing: Colour;
  breast: Colour;
  crown: Colour;
  cheek: Colour;
  throat: Colour;
  bill: Colour;
  leg: Colour;
  tail: Colour;
  /** Share of the length: tail and bill. */
  tailLength: number;
  billLength: number;
  /** 1 is a blackbird's. */
  plump: number;
  legs: number;
  /** Radians that the tail is held up when perched. */
  cocked: number;
  barred?: number;
  spotted?: number;
  /** Further marks, drawn when perched. */
  marks?: readonly Part[];
}

export interface Pose {
  kind: 'stand' | 'peck' | 'fly' | 'run';
  /** Wings in flight, -1 down .. 1 up; legs when running. */
  beat: number;
  /** Head turned away: the bill shows less. */
  turned: boolean;
}

/** A bird in side view; its bill and tail tips are one length apart when it stands with its tail level. */
export function bird(look: BirdLook, pose: Pose): Part[] {
  return pose.kind === 'fly' ? flying(look, pose.beat) : perched(look, pose);
}

function perched(look: BirdLook, pose: Pose): Part[] {
  const { plump, legs } = look;
  const down = pose.kind === 'peck';
  const lean = down ? -0.28 : 0.3;
  const rump = -0.5 + look.tailLength;
  const neck = 0.5 - look.billLength;
  const head = 0.095 * (0.75 + 0.25 * plump);
  const headX = down ? neck - 0.13 : neck - head;
  const headY = down ? legs + 0.06 : legs + 0.3 + 0.08 * plump;
  const middle = (rump + neck) / 2 - 0.03;
  const half = (neck - rump) / 2;
  const bodyY = legs + 0.15 * plump;
  const cock = down ? 0.35 : look.cocked;
  const tail = look.tailLength;
  const stride = pose.kind === 'run' ? 0.06 * pose.beat : 0;
  const marks = {
    ...(look.barred ? { barred: look.barred } : {}),
    ...(look.spotted ? { spotted: look.spotted } : {}),
  };
  const parts: Part[] = [
    {
      x: rump + 0.03 - (tail / 2) * Math.cos(cock),
      y: bodyY + (down ? 0.1 : -0.02) + (tail / 2) * Math.sin(cock),
      a: tail / 2 + 0.04,
      b: 0.035 + 0.02 * plump,
      turn: -cock,
      colour: look.tail,
      ...marks,
    },
    { x: middle + 0.03 + stride, y: legs / 2, a: 0.016, b: legs / 2 + 0.02, turn: 0, colour: look.leg },
    {
      x: middle - 0.03 - stride,
      y: legs / 2,
      a: 0.016,
      b: legs / 2 + 0.02,
      turn: 0,
      colour: scaled(look.leg, 0.7),
    },
    { x: middle, y: bodyY, a: half, b: 0.145 * plump, turn: lean, colour: look.back, ...marks },
    {
      x: middle + 0.07,
      y: bodyY - 0.035,
      a: half * 0.72,
      b: 0.105 * plump,
      turn: lean,
      colour: look.breast,
      ...marks,
    },
    {
      x: middle - 0.06,
      y: bodyY + 0.025,
      a: half * 0.78,
      b: 0.075 * plump,
      turn: lean * 0.8,
      colour: look.wing,
      ...marks,
    },
    {
      x: (middle + half * 0.5 + headX) / 2,
      y: (bodyY + headY) / 2 + 0.03,
      a: 0.09,
      b: 0.085,
      turn: 0.8,
      colour: look.breast,
    },
    ...(pose.turned ? [] : [beak(look, headX + head * 0.8, headY - 0.01, down ? -0.9 : 0)]),
    { x: headX, y: headY, a: head, b: head * 0.92, turn: 0, colour: look.crown },
    { x: headX + 0.02, y: headY - head * 0.35, a: head * 0.75, b: head * 0.5, turn: 0, colour: look.cheek },
    {
      x: headX + head * 0.5,
      y: headY - head * 0.75,
      a: head * 0.5,
      b: head * 0.35,
      turn: -0.5,
      colour: look.throat,
    },
    { x: headX + head * 0.35, y: headY + head * 0.15, a: 0.017, b: 0.017, turn: 0, colour: screen(0x0c0b0a) },
  ];
  for (const m of look.marks ?? [])
    parts.push({ ...m, x: middle + m.x, y: bodyY + m.y, turn: lean + m.turn });
  return parts;
}

function beak(look: BirdLook, x: number, y: number, turn: number): Part {
  const half = look.billLength / 2 + 0.01;
  return {
    x: x + half * Math.cos(turn),
    y: y + half * Math.sin(turn),
    a: half,
    b: 0.022,
    turn,
    colour: look.bill,
  };
}

function flying(look: BirdLook, beat: number): Part[] {
  const y = 0.3;
  // A raised or lowered wing seen from the side: foreshortened, swept back from the shoulder.
  const reach = 0.08 + 0.22 * Math.abs(beat);
  const turn = beat > 0 ? 1.95 : -1.95;
  const wing = (x: number, shade: number): Part => ({
    x: x + reach * Math.cos(turn),
    y: y + 0.03 + reach * Math.sin(turn),
    a: reach + 0.05,
    b: 0.085,
    turn,
    colour: scaled(look.wing, shade),
  });
  return [
    wing(0.12, 0.75),
    { x: -0.33, y: y - 0.01, a: look.tailLength / 2 + 0.06, b: 0.05, turn: 0, colour: look.tail },
    { x: 0, y, a: 0.3, b: 0.115 * look.plump, turn: 0.08, colour: look.back },
    { x: 0.03, y: y - 0.04, a: 0.24, b: 0.08 * look.plump, turn: 0.08, colour: look.breast },
    { x: 0.3, y: y + 0.04, a: 0.1, b: 0.09, turn: 0, colour: look.crown },
    {
      x: 0.4 + look.billLength / 2,
      y: y + 0.03,
      a: look.billLength / 2 + 0.02,
      b: 0.022,
      turn: 0,
      colour: look.bill,
    },
    wing(0.06, 1.1),
  ];
}
