// What the service worker has beside a browser's own things: the build puts it before our script.

/** What there is to keep. */
declare const FILES: { url: string; revision: string | null; integrity: string; size: number; first: boolean }[];
declare const workbox: {
  precaching: typeof import("workbox-precaching");
  routing: typeof import("workbox-routing");
};

// `self` is a service worker's here. A library of types for that alone does not exist.
interface WorkerGlobalScope extends Pick<ServiceWorkerGlobalScope, "clients" | "registration" | "skipWaiting"> {}
interface WorkerGlobalScopeEventMap extends Pick<ServiceWorkerGlobalScopeEventMap, "activate" | "install" | "message"> {}
