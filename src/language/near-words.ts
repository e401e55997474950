import type { HearingData } from '../grammar/hearing.ts'
import { soundBits, soundCodes, soundDistance } from './sound-distance.ts'
import { soundsByRule } from './sounds.ts'

/** A word or two that may have been meant. */
export interface Near {
  readonly words: readonly string[]
  /** How far the sounds are; below 1 one sound at most is much different. */
  readonly distance: number
}

interface Target {
  /** What counts beside the sound when few can be kept: the logarithm of how usual it is. */
  readonly usual: number
  readonly words: readonly string[]
  readonly codes: Uint8Array
  readonly bits: number
}

/** Candidates kept for one stretch of sounds. */
const MOST = 12

/** How far a candidate may be from `length` sounds that were heard. */
const reach = (length: number): number => Math.min(1.5, 0.4 + 0.2 * length)

/** Finds what sounds near: words of the trade's talk for a word or two that were heard. Remembers what it found. */
export class NearWords {
  private readonly sounds = new Map<string, string>()
  private targets: ReadonlyMap<number, readonly Target[]> | undefined
  private readonly found = new Map<string, readonly Near[]>()
  private readonly coded = new Map<string, Uint8Array>()
  private readonly measured = new Map<string, [string, number][]>()

  /** `targetsOf` is asked when the first word is looked for; `mayMean` refuses words that nothing may ever be put right to. */
  constructor(
    data: HearingData,
    private readonly targetsOf: () => Iterable<readonly [words: readonly string[], count: number]>,
    mayMean: (word: string) => boolean,
  ) {
    for (const line of data.sounds) {
      const parts = line.split(' ')
      for (let i = 0; i + 1 < parts.length; i += 2) this.sounds.set(parts[i]!, parts[i + 1]!)
    }
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
  private byLength(): ReadonlyMap<number, readonly Target[]> {
    if (this.targets) return this.targets
    const byLength = new Map<number, Target[]>()
    for (const [words, count] of this.targetsOf()) {
      for (const word of words) if (!this.sounds.has(word)) this.sounds.set(word, soundsByRule(word))
      const codes = this.soundCodesOf(words)
      if (codes.length === 0) continue
      const target = { words, codes, usual: Math.log(count), bits: soundBits(codes) }
      const list = byLength.get(codes.length)
      if (list) list.push(target)
      else byLength.set(codes.length, [target])
    }
    this.targets = byLength
    return byLength
  }

  private soundCodesOf(words: readonly string[]): Uint8Array {
    return soundCodes(words.map((word) => this.sounds.get(word) ?? soundsByRule(word)).join(''))
  }

  private codesOf(words: readonly string[]): Uint8Array {
    const key = words.join(' ')
    let codes = this.coded.get(key)
    if (!codes) {
      codes = this.soundCodesOf(words)
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
    for (let length = Math.max(1, codes.length - 2); length <= codes.length + 2; length++)
      for (const target of byLength.get(length) ?? []) {
        if (ones(bits ^ target.bits) > 4) continue
        const distance = soundDistance(codes, target.codes, most)
        if (distance <= most && target.words.join(' ') !== key)
          out.push({ words: target.words, distance, rank: distance * 4 - target.usual })
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

function ones(bits: number): number {
  let n = 0
  for (let rest = bits; rest !== 0; rest &= rest - 1) n++
  return n
}
