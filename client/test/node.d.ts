// The few parts of Node that the unit tests use, typed here so that Node's own
// globals (its setTimeout, its process) cannot leak into the types of code
// that runs in a browser.
declare module "node:test" {
	type Body = (t: TestContext) => void | Promise<void>;
	interface TestContext {
		readonly name: string;
		readonly mock: MockTracker;
		test(name: string, body: Body): Promise<void>;
		after(body: () => void | Promise<void>): void;
		diagnostic(message: string): void;
	}
	interface MockTracker {
		readonly timers: MockTimers;
		reset(): void;
	}
	interface MockTimers {
		enable(options?: {
			apis?: ("setInterval" | "setTimeout" | "setImmediate" | "Date")[];
			now?: number;
		}): void;
		tick(milliseconds?: number): void;
		runAll(): void;
		reset(): void;
	}
	export function test(name: string, body: Body): Promise<void>;
	export function describe(name: string, body: () => void): void;
	export function it(name: string, body: Body): void;
	export function before(body: () => void | Promise<void>): void;
	export function after(body: () => void | Promise<void>): void;
	export function beforeEach(body: () => void | Promise<void>): void;
	export function afterEach(body: () => void | Promise<void>): void;
	export const mock: MockTracker;
}

declare module "node:assert/strict" {
	type Matcher = RegExp | (new (...args: never[]) => Error) | ((thrown: unknown) => boolean);
	interface Assert {
		(value: unknown, message?: string): asserts value;
		ok(value: unknown, message?: string): asserts value;
		equal<T>(actual: unknown, expected: T, message?: string): asserts actual is T;
		notEqual(actual: unknown, expected: unknown, message?: string): void;
		deepEqual<T>(actual: unknown, expected: T, message?: string): asserts actual is T;
		notDeepEqual(actual: unknown, expected: unknown, message?: string): void;
		throws(block: () => unknown, expected?: Matcher, message?: string): void;
		doesNotThrow(block: () => unknown, message?: string): void;
		rejects(block: Promise<unknown> | (() => Promise<unknown>), expected?: Matcher): Promise<void>;
		match(value: string, pattern: RegExp, message?: string): void;
		doesNotMatch(value: string, pattern: RegExp, message?: string): void;
		fail(message?: string): never;
	}
	const assert: Assert;
	export default assert;
}

declare module "node:fs" {
	export function readFileSync(path: string, encoding: "utf8"): string;
	export function readdirSync(path: string): string[];
}

declare module "wcag-contrast" {
	const contrast: { hex(a: string, b: string): number };
	export default contrast;
}
