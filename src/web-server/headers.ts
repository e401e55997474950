import { secureHeaders } from 'hono/secure-headers'

/**
 * What the page may do: load its own files, speak with this server, use the microphone. Nothing from elsewhere, nothing
 * inline, no frame around it. `src/web/index.html` says the same for hosts that send no headers of their own.
 */
export const securityHeaders = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: ["'self'"],
    styleSrc: ["'self'"],
    imgSrc: ["'self'", 'data:'],
    connectSrc: ["'self'"],
    mediaSrc: ["'self'", 'blob:'],
    workerSrc: ["'self'"],
    manifestSrc: ["'self'"],
    baseUri: ["'none'"],
    formAction: ["'none'"],
    frameAncestors: ["'none'"],
  },
  permissionsPolicy: {
    microphone: ['self'],
    screenWakeLock: ['self'],
    camera: [],
    geolocation: [],
    payment: [],
    usb: [],
  },
  crossOriginOpenerPolicy: 'same-origin',
  crossOriginResourcePolicy: 'same-origin',
  referrerPolicy: 'no-referrer',
  xFrameOptions: 'DENY',
  // Loopback has no certificate; the rest of hono's set speaks to browsers that are gone.
  strictTransportSecurity: false,
  xDownloadOptions: false,
  xPermittedCrossDomainPolicies: false,
  xXssProtection: false,
})
