/**
 * New versions of the app: noticed, never taken by themselves. Nothing here reloads the page but `apply`, and that is
 * for the case list, with no case open and a yes from a person.
 */
import type { Failure } from '../failure.ts';

type Container = Pick<ServiceWorkerContainer, 'register' | 'controller' | 'addEventListener' | 'removeEventListener'>;

export interface UpdateSources {
  container?: Container | undefined;
  /** Relative to the page. */
  script?: string;
  reload?: () => void;
}

export interface Updates {
  /** Lets the waiting version take over, then reloads the page. False when none waits. */
  apply(): boolean;
  /** Looks for a new version now; does nothing without a network. */
  look(): void;
}

/**
 * Registers the service worker that makes the app work without a network.
 *
 * @param onWaiting a new version is there and waits
 * @param onProblem why the app is not kept for work without a network
 * @example const updates = watchUpdates(() => setWaiting(true), setProblem)
 */
export function watchUpdates(
  onWaiting: () => void,
  onProblem: (reason: Failure) => void,
  sources: UpdateSources = {},
): Updates {
  // The browser has none where the address is not secure, whatever its types say.
  const { container = navigator.serviceWorker, script = './sw.js', reload = () => location.reload() } = sources;
  let registration: ServiceWorkerRegistration | undefined;

  const follow = (worker: ServiceWorker | null) => {
    const tell = () => {
      // The very first version waits for nobody: there is no older one.
      if (worker?.state === 'installed' && container?.controller) onWaiting();
    };
    worker?.addEventListener('statechange', tell);
    tell();
  };

  if (!container) onProblem({ code: 'not-offline', detail: 'serviceWorker' });
  else
    container.register(script, { updateViaCache: 'none' }).then(
      (registered) => {
        registration = registered;
        follow(registered.waiting ?? registered.installing);
        registered.addEventListener('updatefound', () => follow(registered.installing));
      },
      (error: unknown) => onProblem({ code: 'not-offline', detail: (error as Error).message }),
    );

  return {
    apply() {
      const waiting = registration?.waiting;
      if (!waiting || !container) return false;
      const taken = () => {
        container.removeEventListener('controllerchange', taken);
        reload();
      };
      container.addEventListener('controllerchange', taken);
      waiting.postMessage({ type: 'SKIP_WAITING' });
      return true;
    },
    // Without a network nothing is found, which is how the app works all day.
    look: () => void registration?.update().catch(() => {}),
  };
}
