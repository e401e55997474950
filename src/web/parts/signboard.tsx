import type { PlaceInHand } from '../../report/live.ts'
import { sayWhere } from '../../report/live.ts'

/** The place in hand in large letters, a field each for hive, box, frame and side. */
export function Signboard({ place }: { place: PlaceInHand }) {
  const { hive, box, frame, side } = place
  const cells = [
    { name: 'hive', value: hive === '' ? '–' : hive },
    { name: 'box', value: box ?? '–' },
    { name: 'frame', value: frame ?? '–' },
    { name: 'side', value: side ?? '–' },
  ]
  return (
    <section class="signboard" aria-label={`Place in hand: ${sayWhere(place)}`}>
      <dl>
        {cells.map(({ name, value }) => (
          <div key={name} class={`cell cell-${name} ${value === '–' ? 'is-open' : ''}`}>
            <dt>{name}</dt>
            <dd class={String(value).length > 3 ? 'is-long' : ''}>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
