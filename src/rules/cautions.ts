import type { SourceId } from './sources.ts'

/** Safety notes. A finding carries only their ids; whoever prints findings shows each note once. */
export interface Caution {
  readonly title: string
  readonly text: string
  readonly sources: readonly SourceId[]
}

export const cautions = {
  stings: {
    title: 'Stings',
    text:
      'Trouble breathing, swelling of face, tongue or throat, dizziness, collapse, vomiting or belly pain after a sting is an emergency: ' +
      'call the emergency number (000 Australia, 111 New Zealand, 999 or 112 UK and Europe, 911 North America) and follow what they say.',
    sources: ['ascia-anaphylaxis', 'ulster-stings'],
  },
  smoker: {
    title: 'Smoker',
    text: 'A lit smoker starts fires: check today’s fire ban, keep water at hand, and put it out fully before you leave.',
    sources: ['nsw-smoker'],
  },
  acid: {
    title: 'Acids and treatments',
    text:
      'Formic and oxalic acid burn skin, eyes and lungs: acid-proof gloves, goggles, sleeves, a mask where the label asks for one, upwind, ' +
      'water at hand. The label and the local law decide, not this program.',
    sources: ['formic-leaflet'],
  },
  label: {
    title: 'Label and law',
    text: 'Use only products registered where you are, as their label says; the label and the local law decide, not this program.',
    sources: [],
  },
  lifting: {
    title: 'Heavy boxes',
    text: 'A full box weighs 17 to 35 kg: lift with a second person, frame by frame, or with a barrow.',
    sources: [],
  },
  infants: {
    title: 'Honey and infants',
    text: 'No honey to a child under one year, cooked or raw.',
    sources: ['inspq-honey'],
  },
  notifiable: {
    title: 'Notifiable disease',
    text:
      'Only an inspector or laboratory can say which disease it is. Close up, move nothing, clean tools and gloves, and call your bee ' +
      'inspector or agriculture department before you do more.',
    sources: ['uk-bee-health', 'au-reporting', 'woah-code'],
  },
} as const satisfies Record<string, Caution>

export type CautionId = keyof typeof cautions
