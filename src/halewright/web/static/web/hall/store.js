/**
 * Keeps the clock's place on this device: at once in local storage, and on disk in a database.
 *
 * Local storage is written within the call but may reach the disk seconds later; the database is
 * asked to reach it now. A load takes the younger of the two. Neither ever holds anything but
 * times, a state and the session's fingerprint.
 */

const KEY = "halewright.hall.place";
const DATABASE = "halewright-hall";
const TABLE = "place";

/** A fingerprint of the document's text (FNV-1a, 32 bit): tells sessions apart, hides nothing. */
export function fingerprint(text) {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193) >>> 0;
  }
  return hash.toString(16).padStart(8, "0");
}

export class Place {
  #document;
  #database = null;
  #memoryOnly = false;

  constructor(document) {
    this.#document = document;
  }

  /** Whether this device refused to keep anything. */
  get memoryOnly() {
    return this.#memoryOnly;
  }

  async open() {
    this.#database = await opened();
  }

  /** The last place kept for this very session, or null. */
  async last() {
    const both = [this.#quick(), await this.#durable()];
    const ours = both.filter((kept) => kept !== null && kept.document === this.#document);
    ours.sort((a, b) => b.wall_ms - a.wall_ms);
    return ours[0] ?? null;
  }

  keep(place) {
    const kept = { ...place, document: this.#document };
    try {
      localStorage.setItem(KEY, JSON.stringify(kept));
    } catch {
      // Storage is full or forbidden; the screen says so, the clock runs on.
      this.#memoryOnly = this.#database === null;
    }
    if (this.#database !== null) {
      const change = this.#database.transaction(TABLE, "readwrite", { durability: "strict" });
      change.objectStore(TABLE).put(kept, KEY);
    }
  }

  #quick() {
    try {
      return JSON.parse(localStorage.getItem(KEY));
    } catch {
      return null;
    }
  }

  #durable() {
    if (this.#database === null) {
      return null;
    }
    return new Promise((resolve) => {
      const asked = this.#database.transaction(TABLE).objectStore(TABLE).get(KEY);
      asked.onsuccess = () => resolve(asked.result ?? null);
      asked.onerror = () => resolve(null);
    });
  }
}

function opened() {
  return new Promise((resolve) => {
    try {
      const asked = indexedDB.open(DATABASE, 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore(TABLE);
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => resolve(null);
      asked.onblocked = () => resolve(null);
    } catch {
      resolve(null);
    }
  });
}
