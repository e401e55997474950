import { describe, expect, test } from 'vitest'
import { type Command, commandIn, isQuestion } from '../../src/live/commands.ts'

/** What a keeper asks, in the words of many, and what it is. */
const asked: readonly [Command['kind'], string][] = [
  ['lacking', "what's missing"],
  ['lacking', "What's still missing?"],
  ['lacking', 'what is missing here'],
  ['lacking', 'so what have I forgotten'],
  ['lacking', 'have I forgotten anything'],
  ['lacking', 'did I miss anything for this hive'],
  ['lacking', 'anything else you need'],
  ['lacking', 'Anything else you need?'],
  ['lacking', 'is there anything else you want to know'],
  ['lacking', 'anything I missed'],
  ['lacking', "anything I've forgotten"],
  ['lacking', 'what else do you need'],
  ['lacking', 'what else do you need to know about this hive'],
  ['lacking', 'what do you still need from me'],
  ['lacking', 'right, what else should I check'],
  ['lacking', 'what is left to say'],
  ['lacking', 'what haven’t I said'],
  ['lacking', 'do I need to say anything else'],
  ['readBack', 'what did I say about the queen'],
  ['readBack', 'What have I said about the stores so far?'],
  ['readBack', 'what do you have for brood'],
  ['readBack', 'did I mention eggs'],
  ['readBack', 'did I say anything about queen cells'],
  ['readBack', 'have I said whether there were eggs'],
  ['readBack', 'did I say I saw the queen'],
  ['readBack', 'how many frames of brood did I say'],
  ['readBack', 'how many seams of bees have I said'],
  ['readBack', 'how much honey did I say there was'],
  ['readBack', 'read it back'],
  ['readBack', 'could you read that back please'],
  ['readBack', 'read me back what you have'],
  ['readBack', 'what have you got so far'],
  ['readBack', 'what have you heard'],
  ['again', 'repeat that'],
  ['again', 'say that again please'],
  ['again', "I didn't catch that"],
  ['again', 'sorry, what was that'],
  ['where', 'where are we'],
  ['where', 'okay where are we now'],
  ['where', 'where was I'],
  ['where', 'which hive am I on'],
  ['where', 'what frame is this'],
  ['due', 'what is due'],
  ['due', "what's due here"],
  ['due', 'is anything due'],
  ['due', 'when should I come back'],
  ['due', "what's next for this hive"],
  ['advise', 'what should I do here'],
  ['advise', 'what should I do'],
  ['advise', 'what do I do about it'],
  ['advise', 'any advice for this colony'],
  ['scratch', 'scratch that'],
  ['scratch', 'no, scratch that'],
  ['scratch', 'delete that'],
  ['scratch', 'undo the last one'],
  ['scratch', 'ignore what I just said'],
  ['next', 'next hive'],
  ['next', 'on to the next one'],
  ['next', 'okay next hive please'],
  ['close', 'closing up'],
  ['close', 'close it up'],
  ['close', "right I'm closing this one up now"],
  ['close', 'closing her up'],
  ['close', 'lid back on'],
  ['close', "that's it for this one"],
  ['finish', "that's all for today"],
  ['finish', 'stop listening'],
  ['finish', "that's the end of the visit"],
]

/** What is said of the bees, though it begins, ends or sounds like a question to the program. */
const told: readonly string[] = [
  "what's missing is the queen",
  'what is missing here is eggs',
  'the queen is missing',
  'nothing is missing',
  "what's left is honey",
  'what is left to say is that she is gone',
  'I have forgotten the smoker',
  'I forgot to say there were eggs',
  'anything else you need is in the shed',
  'I missed the queen on frame three',
  'they need feeding',
  'what I said about the queen was wrong, she is there',
  'I did mention eggs',
  'did I say six frames? no, seven',
  'did I say hive two? I meant hive three',
  'I said how many frames of brood, five',
  'how many frames of brood? five',
  'how many beetles',
  'any eggs? yes',
  'eggs?',
  'queen cells? none',
  'read it back in the house',
  'the label is to be read back home',
  'repeat treatment in a week',
  'repeat that treatment in ten days',
  'where are we, hive three, four frames of brood',
  'where the queen was we found cells',
  'which hive is this, number four I think',
  'scratch that, six',
  'scratch that, it was five frames of honey',
  'delete that last frame of honey, put six',
  'ignore that cup',
  'next hive is strong',
  'next one has two frames of brood',
  'next frame',
  'next hive, saw the queen',
  'the next hive is due a treatment',
  'treatment is due on Friday',
  'what is due is the formic acid on the tenth',
  'what should I do, I think I will feed them',
  'I should do a split here',
  'closing up the entrance',
  'closing up the entrance to one bee space',
  'close up there are eggs',
  'they are closing up the gap with wax',
  "that's it for the honey, three frames taken",
  "that's all the brood, six frames",
  'the lid is on and they are calm',
  'lid back on with a new feeder under it',
  'done a treatment here with oxalic',
  'stop feeding this one',
  'the end of the visit is on the fourth',
  'what a queen',
  'what lovely bees',
]

describe('what is said to the program', () => {
  test('there are enough wordings of both', () => {
    expect(asked.length).toBeGreaterThanOrEqual(40)
    expect(told.length).toBeGreaterThanOrEqual(40)
  })
  test.each(asked)('%s: %s', (kind, words) => {
    expect(commandIn(words)?.kind).toBe(kind)
  })
  test.each(told)('is no command: %s', (words) => {
    expect(commandIn(words)).toBeNull()
  })
  test.each([
    ['what did I say about the queen', 'queen'],
    ['did I mention any eggs', 'eggs'],
    ['how many frames of brood did I say', 'frames of brood'],
    ['have I said whether there were queen cells', 'queen cells'],
    ['did I say I saw the queen', 'queen'],
    ['what did I say about it', undefined],
  ])('%s: is about %s', (words, about) => {
    expect(commandIn(words)).toEqual({ kind: 'readBack', ...(about !== undefined && { about }) })
  })
  test('edits and moves are heard by the reader as well, questions are not', () => {
    for (const [kind, words] of asked)
      expect(isQuestion(commandIn(words)!), words).toBe(!['scratch', 'next', 'close'].includes(kind))
  })
})
