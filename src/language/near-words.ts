import type { HearingData } from '../grammar/hearing.ts'
import { knownSounds, soundBits, soundCodes, soundDistance } from './sound-distance.ts'
import { soundsByRule } from './sounds.ts'

/** A word or two that may have been meant. */
export interface Near {
  readonly words: readonly string[]
  /** How far the sounds are; below 1 one sound at most is much different. */
  readonly distance: number
}

/** A word or two that may have been meant: their sounds, which groups of sounds those are of (`soundBits`), and how often they are said. */
export type Sounding = readonly [said: string, sounds: string, bits: number, count: number]

interface Target {
  /** What counts beside the sound when few can be kept: the logarithm of how usual it is. */
  readonly usual: number
  readonly said: string
  readonly sounds: string
  /** The sounds as numbers, when it was met. */
  codes: Uint8Array | undefined
}

/** Targets with as many sounds; their bits stand side by side, since most are refused by these alone. */
interface Targets {
  readonly list: readonly Target[]
  readonly bits: Uint16Array
}

/** Candidates kept for one stretch of sounds. */
const MOST = 12

/** How far a candidate may be from `length` sounds that were heard. */
const reach = (length: number): number => Math.min(1.5, 0.4 + 0.2 * length)

/** How the words sound that the rules of spelling get wrong. */
function exceptions({ sounds }: HearingData): Map<string, string> {
  const out = new Map<string, string>()
  for (const line of sounds) {
    const parts = line.split(' ')
    for (let i = 0; i + 1 < parts.length; i += 2) out.set(parts[i]!, parts[i + 1]!)
  }
  return out
}

/** How words sound that may have been meant, each a word or two with how often they are said. */
export function soundings(data: HearingData, meant: Iterable<readonly [said: string, count: number]>): Sounding[] {
  const known = exceptions(data)
  const soundsOf = (word: string): string => {
    const sounds = known.get(word) ?? soundsByRule(word)
    known.set(word, sounds)
    return sounds
  }
  const out: Sounding[] = []
  for (const [said, count] of meant) {
    const sounds = knownSounds(said.split(' ').map(soundsOf).join(''))
    if (sounds !== '') out.push([said, sounds, soundBits(soundCodes(sounds)), count])
  }
  return out
}

/** Finds what sounds near: words of the trade's talk for a word or two that were heard. Remembers what it found. */
export class NearWords {
  private readonly sounds: Map<string, string>
  private targets: ReadonlyMap<number, Targets> | undefined
  private readonly found = new Map<string, readonly Near[]>()
  private readonly coded = new Map<string, Uint8Array>()
  private readonly measured = new Map<string, [string, number][]>()

  /** `meant` is asked when the first word is looked for; `mayMean` refuses words that nothing may ever be put right to. */
  constructor(
    data: HearingData,
    private readonly meant: () => Iterable<Sounding>,
    mayMean: (word: string) => boolean,
  ) {
    this.sounds = exceptions(data)
    for (const line of data.heard) {
      const [said = '', all = ''] = line.split(': ')
      if (!said.split(' ').every(mayMean)) continue
      for (const entry of all.split(', ')) {
        const cut = entry.lastIndexOf(' ')
        const heard = entry.slice(0, cut)
        this.measured.set(heard, [...(this.measured.get(heard) ?? []), [said, Number(entry.slice(cut + 1))]])
      }
    }
  }

  /** What may have been meant, by how many sounds it has. */
  private byLength(): ReadonlyMap<number, Targets> {
    if (this.targets) return this.targets
    const byLength = new Map<number, { list: Target[]; bits: number[] }>()
    for (const [said, sounds, bits, count] of this.meant()) {
      const target = { usual: Math.log(count), said, sounds, codes: undefined }
      const alike = byLength.get(sounds.length) ?? { list: [], bits: [] }
      alike.list.push(target)
      alike.bits.push(bits)
      byLength.set(sounds.length, alike)
    }
    this.targets = new Map(
      [...byLength].map(([length, { list, bits }]) => [length, { list, bits: Uint16Array.from(bits) }]),
    )
    return this.targets
  }

  private codesOf(words: readonly string[]): Uint8Array {
    const key = words.join(' ')
    let codes = this.coded.get(key)
    if (!codes) {
      codes = soundCodes(words.map((word) => this.sounds.get(word) ?? soundsByRule(word)).join(''))
      if (this.coded.size > 20_000) this.coded.clear()
      this.coded.set(key, codes)
    }
    return codes
  }

  /** What the words that were heard may have been meant for, nearest first. */
  near(heard: readonly string[]): readonly Near[] {
    const key = heard.join(' ')
    const known = this.found.get(key)
    if (known) return known
    const out = this.search(heard)
    // a bound, so that a program which runs for days does not grow
    if (this.found.size > 20_000) this.found.clear()
    this.found.set(key, out)
    return out
  }

  private search(heard: readonly string[]): readonly Near[] {
    const codes = this.codesOf(heard)
    const byLength = this.byLength()
    const bits = soundBits(codes)
    const most = reach(codes.length)
    const out: (Near & { rank: number })[] = []
    const key = heard.join(' ')
    for (let length = Math.max(1, codes.length - 2); length <= codes.length + 2; length++) {
      const alike = byLength.get(length)
      for (let i = 0; alike && i < alike.list.length; i++) {
        if (ones(bits ^ alike.bits[i]!) > 4) continue
        const target = alike.list[i]!
        target.codes ??= soundCodes(target.sounds)
        const distance = soundDistance(codes, target.codes, most)
        if (distance <= most && target.said !== key)
          out.push({ words: target.said.split(' '), distance, rank: distance * 4 - target.usual })
      }
    }
    out.sort((a, b) => a.rank - b.rank)
    const best: Near[] = out.slice(0, MOST)
    for (const [said, share] of this.measured.get(key) ?? []) {
      const distance = Math.min(most, Math.max(0.2, -Math.log(share) / 2))
      const words = said.split(' ')
      const at = best.findIndex((near) => near.words.join(' ') === said)
      if (at < 0) best.push({ words, distance })
      else if (best[at]!.distance > distance) best[at] = { words, distance }
    }
    return best
  }
}

/** How many bits are set, of sixteen. */
function ones(bits: number): number {
  const twos = bits - ((bits >> 1) & 0x5555)
  const fours = (twos & 0x3333) + ((twos >> 2) & 0x3333)
  return ((((fours + (fours >> 4)) & 0x0f0f) * 0x0101) >> 8) & 0x1f
}
