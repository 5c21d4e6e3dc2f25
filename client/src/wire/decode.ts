// The only place that reads what the network brings. Everything behind it may
// rely on the types: a message that does not fit them is refused here, whole.
import {
	flag,
	four,
	list,
	map,
	may,
	num,
	orNull,
	pair,
	type Read,
	text,
	thing,
	Unreadable,
	word,
	wrong,
} from "./read.ts";
import type {
	Ack,
	AssignmentAnswer,
	Ball,
	Beat,
	Block,
	BookCall,
	BookLook,
	BookMan,
	BookOut,
	BookPlay,
	BookSpot,
	Bye,
	Change,
	CodeOut,
	CountAnswer,
	Down,
	Drag,
	ErrorOut,
	Fact,
	FaultAnswer,
	FixAnswer,
	JoinOut,
	LaneAnswer,
	LeverageAnswer,
	LookAnswer,
	Man,
	Member,
	Moment,
	Motion,
	Numbers,
	Person,
	PocketAnswer,
	Point,
	Refused,
	Rep,
	Rest,
	RestsOut,
	Roster,
	RuleAnswer,
	SessionOut,
	SessionsOut,
	Spot,
	SpotAnswer,
	State,
	TokenOut,
	Track,
	TrackEnd,
	TrackEvent,
	TrackFree,
	TrackLanes,
	TrackOwners,
	Verdicts,
	Way,
	WayAnswer,
	Welcome,
} from "./types.ts";

const side = word("left", "right");
const role = word("coach", "player", "wall");
const keeps = word("yes", "contested", "no");
const floor = word("coach", "own", "all");
const door = word("open", "knock", "closed");

const ball = thing<Ball>({
	rules: word("nfhs", "ncaa", "pro"),
	hash: word("left", "middle", "right"),
	yard: num,
});
const man = thing<Man>({ at: pair, line: flag });
const spot = thing<Spot>({ at: pair, by: text, man: text });
const motion = thing<Motion>({
	who: text,
	from: pair,
	to: pair,
	line: flag,
	kind: may(word("straight", "push", "jet", "orbit", "return", "shift")),
	via: may(list(pair)),
});
const block = thing<Block>({ by: text, on: text });
const moment = thing<Moment>({
	play: text,
	carrier: text,
	places: map(pair),
	blocks: list(block),
	late: list(text),
	makes: map(thing<Way>({ lane: num, going: pair })),
});
const rep = thing<Rep>({
	play: text,
	errors: map(text),
	lane: num,
	seed: num,
	from: num,
	until: num,
	speed: word("walk", "half", "full", ""),
	at: num,
	since: num,
});
const member = thing<Member>({ role, in: flag });

const state = thing<State>({
	title: text,
	book: text,
	ball,
	side,
	look: text,
	call: text,
	men: map(man),
	spots: map(spot),
	motion,
	moment,
	rep,
	floor,
	hidden: flag,
	committed: list(text),
	door,
	members: map(member),
});

const change = thing<Change>({
	title: may(text),
	book: may(text),
	ball: may(ball),
	side: may(side),
	look: may(text),
	call: may(text),
	men: may(map(orNull(man))),
	spots: may(map(orNull(spot))),
	motion: may(motion),
	moment: may(moment),
	rep: may(rep),
	floor: may(floor),
	hidden: may(flag),
	committed: may(list(text)),
	door: may(door),
	members: may(map(orNull(member))),
});

const welcome = thing<Welcome>({
	v: num,
	session: text,
	member: text,
	role,
	epoch: text,
	seq: num,
	chain: text,
	state: may(state),
	counter: num,
	t: num,
});
const fact = thing<Fact>({
	seq: num,
	chain: text,
	client: may(text),
	n: may(num),
	do: text,
	set: change,
});
const drag = thing<Drag>({ who: text, at: pair, by: may(text) });
const point = thing<Point>({ who: may(text), at: may(pair), by: may(text) });

const numbers = thing<Numbers>({ right: list(text), left: list(text) });
const lookAnswer = thing<LookAnswer>({
	notes: list(text),
	legal: flag,
	violations: list(text),
	numbers,
	way: may(
		thing<WayAnswer>({
			start_s: num,
			path: list(pair),
			changes: list(thing<CountAnswer>({ t_s: num, at: pair, numbers })),
		}),
	),
});
const rule = thing<RuleAnswer>({
	verdict: word("right", "wrong-side", "too-tight", "too-wide", "too-deep", "too-shallow"),
	landmark: text,
	side: word("inside", "head-up", "outside"),
	move: pair,
	box: four,
	because: text,
});
const leverage = thing<LeverageAnswer>({
	keeps,
	margin_s: orNull(num),
	margin_yd: orNull(num),
	against: text,
	race: word("hat", "alley", "edge", "top", ""),
	by: text,
	because: text,
});
const fix = thing<FixAnswer>({ move: pair, say: text });
const assignment = thing<AssignmentAnswer>({
	align: text,
	eyes: text,
	fit: text,
	block: text,
	pass: text,
	plays: list(text),
	rules: list(text),
	hat: word("inside", "outside", "either"),
	key: text,
	on: text,
});
const spotAnswer = thing<SpotAnswer>({
	spot: text,
	half: side,
	rule,
	leverage,
	fix,
	assignment,
	pocket: orNull(thing<PocketAnswer>({ keeps: list(list(pair)), maybe: list(list(pair)) })),
});
const lane = thing<LaneAnswer>({
	n: num,
	inside: text,
	outside: text,
	shut_by: text,
	fit_by: text,
	gain_yd: orNull(num),
	span: pair,
});
const fault = thing<FaultAnswer>({
	who: text,
	kind: text,
	opens: orNull(num),
	saved_by: text,
	cost_yd: orNull(num),
	because: text,
});
const verdicts = thing<Verdicts>({
	on: num,
	live: flag,
	look: lookAnswer,
	spots: map(spotAnswer),
	signs: map(keeps),
	lanes: list(lane),
	sound: flag,
	faults: list(fault),
});
const someTrack = thing<Track>({
	play: text,
	from: num,
	step: num,
	men: list(text),
	spots: list(text),
	keys: list(list(num)),
	ball: list(num),
	events: list(
		thing<TrackEvent>({
			t: num,
			what: text,
			who: may(text),
			to: may(text),
			lane: may(num),
			say: may(text),
		}),
	),
	lanes: list(thing<TrackLanes>({ t: num, lanes: list(lane), takes: num })),
	owners: list(thing<TrackOwners>({ t: num, of: map(text), unowned: list(text) })),
	faults: list(fault),
	free: list(thing<TrackFree>({ who: text, thrown: num, margin_s: num, free: flag })),
	breaks: map(list(text)),
	end: thing<TrackEnd>({
		t: num,
		gain_yd: num,
		broke: flag,
		how: text,
		by: text,
		with: text,
		hip: text,
		at: pair,
		lane: num,
		caught: text,
	}),
});
/** A way for everybody, all equally long, and time that goes forward. */
const track: Read<Track> = (v, at) => {
	const t = someTrack(v, at);
	if (t.step <= 0) wrong(`${at}.step`, "more than 0");
	if (t.keys.length !== t.men.length + t.spots.length) wrong(`${at}.keys`, "a way for everybody");
	for (const way of t.keys) {
		if (way.length < 2 || way.length % 2 !== 0 || way.length !== t.ball.length)
			wrong(`${at}.keys`, "ways as long as the ball's");
	}
	return t;
};
const roster = thing<Roster>({
	people: list(
		thing<Person>({
			member: text,
			name: text,
			number: text,
			role,
			in: flag,
			here: flag,
			spot: text,
		}),
	),
	code: may(text),
	link: may(text),
});

const down = thing<Down>({
	welcome: may(welcome),
	facts: may(list(fact)),
	drags: may(list(drag)),
	verdicts: may(verdicts),
	rep: may(track),
	roster: may(roster),
	points: may(list(point)),
	acks: may(list(thing<Ack>({ n: num, seq: num, epoch: text }))),
	refused: may(list(thing<Refused>({ n: num, code: text, detail: may(text), retry_ms: may(num) }))),
	beat: may(thing<Beat>({ t: num, rtt: may(num) })),
	bye: may(thing<Bye>({ code: text, wait_ms: may(num) })),
});

const book = thing<BookOut>({
	name: text,
	looks: list(
		thing<BookLook>({ id: text, name: text, side, ball, men: map(man), menu: list(text) }),
	),
	calls: list(
		thing<BookCall>({
			id: text,
			name: text,
			spots: list(thing<BookSpot>({ spot: text, label: text, name: text })),
		}),
	),
	plays: list(
		thing<BookPlay>({
			id: text,
			name: text,
			kind: word("toss", "swing", "bubble", "now", "pass"),
		}),
	),
	squad: list(thing<BookMan>({ number: text, name: text, spot: text })),
	caution: text,
});

const session = thing<SessionOut>({ id: text, title: text, here: num });

/** Qr is a code to scan: an SVG path on a square grid of size modules. */
export interface Qr {
	size: number;
	path: string;
}

const reading =
	<T>(read: Read<T>) =>
	(v: unknown): T =>
		read(v, "");

/** readDown reads one message of the hub; it throws Unreadable. */
export function readDown(message: string): Down {
	let v: unknown;
	try {
		v = JSON.parse(message);
	} catch {
		throw new Unreadable("message: want JSON");
	}
	return down(v, "");
}

export const readBook = reading(book);
export const readToken = reading(thing<TokenOut>({ token: text }));
export const readJoin = reading(
	thing<JoinOut>({ token: text, session: text, member: text, in: flag }),
);
export const readSession = reading(session);
export const readSessions = reading(thing<SessionsOut>({ sessions: list(session) }));
export const readCode = reading(thing<CodeOut>({ code: text, link: text }));
export const readError = reading(thing<ErrorOut>({ code: text, say: text }));
export const readRests = reading(
	thing<RestsOut>({
		spot: text,
		against: text,
		by: text,
		rests: list(
			thing<Rest>({
				say: text,
				value: num,
				unit: text,
				status: word("published", "derived", "common practice", "chosen"),
				source: text,
				change: text,
			}),
		),
	}),
);
export const readQr = reading(thing<Qr>({ size: num, path: text }));
export { Unreadable } from "./read.ts";
/** readState is for what this device itself kept of a session. */
export const readState = reading(state);
