// One sentence for every refusal. The hub sends codes; their words live here
// and nowhere else.
import { Close, Code, type RefusalCode } from "../wire/types.ts";

type Sentence = (detail: string) => string;

const REFUSALS: Record<RefusalCode, Sentence> = {
	[Code.NotAllowed]: () => "That is for the coach to do.",
	[Code.Floor]: () => "The coach has the floor: nobody else moves men now.",
	[Code.Unsupported]: () => "This server does not know how to do that. Reload the page.",
	[Code.Unknown]: (d) =>
		d === "" ? "That is not in the book any more." : `There is no ${d} here any more.`,
	[Code.Held]: (d) => `${d || "That spot"} is taken. Ask him or the coach.`,
	[Code.NoSpot]: () => "Take a spot first.",
	[Code.Waiting]: () => "The coach has not let you in yet.",
	[Code.OffField]: () => "That place is off the field.",
	[Code.BadValue]: (d) => (d === "" ? "That value cannot be." : `That value cannot be: ${d}.`),
	[Code.NoMoment]: () => "Nothing is frozen now.",
	[Code.Frozen]: () => "A moment is frozen. Go back to the alignment first.",
	[Code.Committed]: () => "You have committed. Wait for the next look.",
	[Code.IllegalMove]: (d) =>
		d === "" ? "The rules forbid that motion." : `The rules forbid that motion: ${d}.`,
	[Code.TooMany]: () => "The session is full.",
	[Code.NoRep]: () => "There is no rep now. Snap one first.",
	[Code.CannotRun]: (d) => `That cannot be run${d === "" ? "" : `: ${d}`}.`,
	[Code.Gap]: () => "Some moves got lost on the way; they are being sent again.",
	[Code.Storage]: () => "The server cannot save just now. Your move is kept and sent again.",
	[Code.SlowDown]: () => "Too many moves at once. Yours are kept and sent again.",
	[Code.BadFrame]: (d) =>
		`The server could not read that${d === "" ? "" : `: ${d}`}. Reload the page.`,
};

const isCode = (code: string): code is RefusalCode => code in REFUSALS;

/** sayRefusal is the sentence for a code; one from a later hub is shown as it is. */
export function sayRefusal(code: string, detail: string): string {
	if (isCode(code)) return REFUSALS[code](detail);
	if (code === "too-many-waiting") {
		return `${detail} moves are waiting to be sent. Get a connection before you go on.`;
	}
	return `Not done: ${code}${detail === "" ? "" : ` (${detail})`}.`;
}

/** What a page that has to stop tells the person, and what he can do. */
export interface Ending {
	readonly head: string;
	readonly say: string;
	readonly way: "join" | "reload" | "here";
}

/** sayEnding explains a close code of 4500 and above. */
export function sayEnding(code: number): Ending {
	switch (code) {
		case Close.Replaced:
			return {
				head: "Open on another page",
				say: "This device showed the session on another page, so this one stopped.",
				way: "here",
			};
		case Close.NoToken:
			return { head: "Join again", say: "This device's pass has ended.", way: "join" };
		case Close.NoSession:
			return { head: "Session over", say: "The coach's session is gone.", way: "join" };
		case Close.Removed:
			return { head: "You are out", say: "The coach took you out of the session.", way: "join" };
		case Close.Version:
			return {
				head: "Reload the page",
				say: "The server speaks a newer or older protocol than this page.",
				way: "reload",
			};
		default:
			return { head: "Stopped", say: `The server closed the session (${code}).`, way: "reload" };
	}
}
