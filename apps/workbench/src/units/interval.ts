/** Half-width of an 80 % interval in standard deviations (normal distribution, 10 % in each tail). */
export const Z_80 = 1.2815515655446004;
