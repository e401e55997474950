/** Two-sided 95 % point of the normal distribution. */
const z95 = 1.959963984540054

/** The Wilson score interval of a share: `found` out of `looked`, both ends as shares between 0 and 1. */
export function wilson(found: number, looked: number, z = z95): { low: number; high: number } {
  if (!(looked > 0)) return { low: 0, high: 1 }
  const share = Math.min(1, found / looked)
  const z2 = z * z
  const middle = share + z2 / (2 * looked)
  const reach = z * Math.sqrt((share * (1 - share)) / looked + z2 / (4 * looked * looked))
  const whole = 1 + z2 / looked
  return { low: Math.max(0, (middle - reach) / whole), high: Math.min(1, (middle + reach) / whole) }
}
