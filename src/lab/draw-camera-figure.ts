import { cameraFigure } from './camera-figure.js';

/** Prints the figure of README that says what the fields of a camera mean; see `npm run figure`. */
process.stdout.write(`${cameraFigure()}\n`);
