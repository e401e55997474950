/** Log odds in the steps in which cues tell them, `least` at least. */
export const wholeSteps = (odds: number, least = -5): number => Math.max(least, Math.min(5, Math.round(odds)))
