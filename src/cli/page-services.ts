import type { Logbook } from '../logbook/logbook.ts'
import { visitValues } from '../report/visit.ts'
import type { YardForRules } from '../rules/settings.ts'
import type { LogbookService, Services, Visit } from '../web-server/services.ts'
import { readerHints, type Yard } from '../yard.ts'
import { localDay } from './days.ts'
import { dueOver } from './due-list.ts'
import { keepHandedOver } from './handed-over.ts'
import { hearRecording } from './hear-recording.ts'
import { version } from './help.ts'

/** What the page can ask of this machine, by what there is: a yard file, its recogniser, a logbook. */
export function pageServices(
  yard: Yard | undefined,
  book: Logbook | undefined,
  report: Services['report'],
): Omit<Services, 'ending'> {
  const recogniser = yard?.recogniser
  return {
    home: {
      version,
      recogniser: recogniser !== undefined,
      logbook: book !== undefined,
      yard: yard ? { hints: readerHints(yard), rules: forRules(yard) } : null,
    },
    ...(recogniser && { transcribe: (audio, gone, inTurn) => hearRecording(recogniser, audio, gone, inTurn) }),
    ...(book && { logbook: logbookService(book, yard) }),
    report,
    today: () => localDay(new Date()),
  }
}

const logbookService = (book: Logbook, yard: Yard | undefined): LogbookService => ({
  keep: (visit) => keepHandedOver(book, visit, yard),
  hives: () => book.hives(),
  async history(hive) {
    const visits: Visit[] = []
    for await (const { date, name, record } of book.notes(hive))
      visits.push({ date, note: name, values: visitValues(record, hive) })
    return visits
  },
  due: (today) => dueOver(book, today),
})

/** What rules look at; the recogniser's command line and the like stay here. */
const forRules = ({ region, equipment, hives, rules }: Yard): YardForRules => ({
  ...(region && { region }),
  ...(equipment && { equipment }),
  ...(hives && { hives: hives.map(({ name: _name, said: _said, apiary: _apiary, ...rest }) => rest) }),
  ...(rules && { rules }),
})
