/** Sugar in a syrup, percent by weight; a litre of water weighs a kilogram. */
export const syrupStrength = (sugarKg: number, waterKg: number): number => (sugarKg / (sugarKg + waterKg)) * 100

/** The most stores that sugar can become: bees thicken it to about 18 % water, losses not counted. */
export const storesFromSugar = (sugarKg: number): number => sugarKg / (1 - 0.18)
