const colours = ['blue', 'white', 'yellow', 'red', 'green'] as const
export type QueenColour = (typeof colours)[number]

/** The marking colour of a queen's year: 1 and 6 white, 2 and 7 yellow, 3 and 8 red, 4 and 9 green, 5 and 0 blue. */
export const colourOfYear = (year: number): QueenColour => colours[year % 5]!
