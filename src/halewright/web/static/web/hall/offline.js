/** Sees to it that this device has everything, and tells the leader in words whether it has. */

const LOOK_MS = 1000;
const COMPLETE = "Complete on this device";
const SAVING = "Saving on this device …";
const ONLY_LOADED =
  "Loaded. To be safe against a reload without the server, open the https address.";

/** Register the worker; take up a newer session only while `idle()` says that none is running. */
export async function keepOnDevice({ screen, idle }) {
  if (!("serviceWorker" in navigator)) {
    screen.device({ words: ONLY_LOADED, complete: false });
    return;
  }
  screen.device({ words: SAVING, complete: false });
  let controlled = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // The first worker of all changes nothing that is shown; a later one brings a newer session.
    if (controlled && idle()) {
      location.reload();
    }
    controlled = true;
  });
  try {
    const registration = await navigator.serviceWorker.register("/hall/worker.js", {
      scope: "/hall/",
      updateViaCache: "none",
    });
    takeWhenIdle({ registration, screen, idle });
    registration.addEventListener("updatefound", () =>
      takeWhenIdle({ registration, screen, idle }),
    );
  } catch {
    // Without the server there is no newer worker; the one that we have is asked below.
  }
  await tellWhenComplete(screen);
}

function takeWhenIdle({ registration, screen, idle }) {
  const newer = registration.waiting ?? registration.installing;
  if (!newer || !registration.active) {
    return; // the first worker of all takes over by itself
  }
  const take = () => {
    if (newer.state === "redundant") {
      clearInterval(watch);
    } else if (newer.state === "installed") {
      screen.newer(!idle());
      if (idle()) {
        newer.postMessage("take-over");
      }
    }
  };
  const watch = setInterval(take, LOOK_MS);
  take();
}

async function tellWhenComplete(screen) {
  const registration = await navigator.serviceWorker.ready;
  const channel = new MessageChannel();
  channel.port1.onmessage = ({ data }) =>
    screen.device(
      data ? { words: COMPLETE, complete: true } : { words: ONLY_LOADED, complete: false },
    );
  registration.active.postMessage("complete?", [channel.port2]);
}
