/** Samples a second that recognisers of speech expect. */
export const RATE = 16_000

/** A WAV file (RIFF, PCM, 16 bit, one channel) of samples between -1 and 1. */
export function wavOf(samples: Float32Array, rate = RATE): ArrayBuffer {
  const bytes = new ArrayBuffer(44 + samples.length * 2)
  const view = new DataView(bytes)
  const write = (at: number, text: string): void => {
    for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i))
  }
  write(0, 'RIFF')
  view.setUint32(4, 36 + samples.length * 2, true)
  write(8, 'WAVEfmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, 1, true)
  view.setUint16(22, 1, true)
  view.setUint32(24, rate, true)
  view.setUint32(28, rate * 2, true)
  view.setUint16(32, 2, true)
  view.setUint16(34, 16, true)
  write(36, 'data')
  view.setUint32(40, samples.length * 2, true)
  for (let i = 0; i < samples.length; i++) {
    const sample = Math.max(-1, Math.min(1, samples[i]!))
    view.setInt16(44 + i * 2, sample < 0 ? sample * 0x8000 : sample * 0x7fff, true)
  }
  return bytes
}

/** Any recording that the browser can play, as a 16 kHz WAV of one channel. Throws where it cannot be decoded. */
export async function asWav(recording: Blob): Promise<ArrayBuffer> {
  const decoder = new OfflineAudioContext(1, 1, RATE)
  // Decoding resamples to the context's rate; what remains is to bring the channels together.
  const sound = await decoder.decodeAudioData(await recording.arrayBuffer())
  const mixer = new OfflineAudioContext(1, Math.max(1, sound.length), RATE)
  const source = mixer.createBufferSource()
  source.buffer = sound
  source.connect(mixer.destination)
  source.start()
  return wavOf((await mixer.startRendering()).getChannelData(0))
}
