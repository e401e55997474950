/** Keeps the screen awake while it is wanted. A browser takes the lock away when the page is hidden: it is asked for again. */
export function screenLock(): { want(awake: boolean): void } {
  let wanted = false
  let lock: WakeLockSentinel | undefined
  const ask = async (): Promise<void> => {
    if (!wanted || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return
    try {
      lock = await navigator.wakeLock.request('screen')
      if (!wanted) await lock.release()
    } catch {
      // A phone that saves its last power refuses; the page works on.
    }
  }
  document.addEventListener('visibilitychange', ask)
  return {
    want(awake) {
      wanted = awake
      if (awake) void ask()
      else void lock?.release()
    },
  }
}
