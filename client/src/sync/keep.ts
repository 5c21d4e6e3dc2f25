// What this browser keeps between visits. Storage may be missing, full or
// forbidden (private windows); then a session still works until the page goes.

export interface Keep {
	get(key: string): string | null;
	set(key: string, value: string): void;
	drop(key: string): void;
}

/** keepIn wraps a storage so that it never throws; without one it remembers in memory. */
export function keepIn(storage: () => Storage): Keep {
	const memory = new Map<string, string>();
	const attempt = <T>(run: (s: Storage) => T, otherwise: T): T => {
		try {
			return run(storage());
		} catch {
			return otherwise;
		}
	};
	return {
		get: (key) => memory.get(key) ?? attempt((s) => s.getItem(key), null),
		set: (key, value) => {
			const kept = attempt((s) => {
				s.setItem(key, value);
				return true;
			}, false);
			if (kept) memory.delete(key);
			else memory.set(key, value);
		},
		drop: (key) => {
			memory.delete(key);
			attempt((s) => s.removeItem(key), undefined);
		},
	};
}

/** parsed reads kept JSON; what is not JSON any more counts as not kept. */
export function parsed(value: string | null): unknown {
	if (value === null) return null;
	try {
		return JSON.parse(value) as unknown;
	} catch {
		return null;
	}
}

/** newId draws 64 random bits as 16 hex digits. randomUUID is missing on plain http. */
export function newId(): string {
	const bytes = crypto.getRandomValues(new Uint8Array(8));
	return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
