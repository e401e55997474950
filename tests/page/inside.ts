/** What the bench of the page needs of its tests, as one bundle. */
export { serving } from '../server/serving.ts'
export { lacking, openPhone, speak } from './phone.ts'
