import { flatten, type InspectionRecord } from '../record/schema.ts'

/** `--as readings`: JSON Lines, one reading a line, keys in the documented order. Nothing for a record without readings. */
export const readings = (record: InspectionRecord): string =>
  flatten(record)
    .map((reading) => `${JSON.stringify(reading)}\n`)
    .join('')

/** `--as record`: the nested record. One note is an object, several are a list. */
export const recordJson = (records: readonly InspectionRecord[]): string =>
  `${JSON.stringify(records.length === 1 ? records[0] : records, null, 2)}\n`
