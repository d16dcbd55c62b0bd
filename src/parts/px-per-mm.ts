/** CSS px per mm until somebody has held a bank card against the screen: 96 px an inch, as CSS counts. */
export const uncalibratedPxPerMm = 96 / 25.4;
