// Generated from the Go types of internal/wire by `go run ./cmd/dev gen`: change those, not this.

/** The protocol's version, sent in hello. */
export const VERSION = 1;

/** The protocol's name in the websocket handshake. */
export const SUBPROTOCOL = "halfline.1";

/** Close codes: 4000-4499 come back and resume, 4500-4999 stop and say why. */
export const Close = {
	/** the server restarts: come back */
	Restart: 4001,
	/** the device fell too far behind: come back and resume */
	Slow: 4002,
	/** no answer to beats */
	Quiet: 4003,
	/** this hub lost the session to another: come back */
	Stale: 4004,
	/** the same device opened another page */
	Replaced: 4500,
	/** the token is unknown or has ended */
	NoToken: 4501,
	/** the session is gone */
	NoSession: 4502,
	/** the coach took this member out */
	Removed: 4503,
	/** this protocol version is not spoken here */
	Version: 4504,
	/** the first frame was not a hello */
	BadHello: 4505,
} as const;

/** Codes of refusals. Another code may come from a later hub. */
export const Code = {
	/** your role may not do this */
	NotAllowed: "not-allowed",
	/** the coach has the floor */
	Floor: "floor",
	/** no such operation */
	Unsupported: "unsupported",
	/** no such look, call, play, man, spot, member (detail) */
	Unknown: "unknown",
	/** that spot is held (detail: spot) */
	Held: "held",
	/** you hold no spot */
	NoSpot: "no-spot",
	/** you have not been let in yet */
	Waiting: "waiting",
	/** that place is off the field */
	OffField: "off-field",
	/** a field has a value that cannot be (detail: field) */
	BadValue: "bad-value",
	/** nothing is frozen */
	NoMoment: "no-moment",
	/** a moment is frozen; thaw it first */
	Frozen: "frozen",
	/** you have committed; wait for the next look */
	Committed: "committed",
	/** that motion is against the rules (detail: rule) */
	IllegalMove: "illegal-move",
	/** the session is full */
	TooMany: "too-many",
	/** there is no rep now */
	NoRep: "no-rep",
	/** the play cannot be run so (detail: why) */
	CannotRun: "cannot-run",
	/** the counter jumped ahead: send the missing operations first */
	Gap: "gap",
	/** the store cannot take it now: keep it, send it again */
	Storage: "storage",
	/** too many at once: keep it, send it again */
	SlowDown: "slow-down",
	/** not JSON, unknown part, wrong type (detail says where) */
	BadFrame: "bad-frame",
} as const;
export type RefusalCode = (typeof Code)[keyof typeof Code];

/** Up is a frame from a device to the hub. It has exactly one part. */
export interface Up {
	hello?: Hello;
	op?: OpUp;
	drag?: Drag;
	point?: Point;
	beat?: Beat;
}

/** Hello is the first frame of a connection, at most 512 bytes, within 5 s. */
export interface Hello {
	v: number;
	/** from POST /api/join or /api/coach */
	token: string;
	/** Session is needed with a coach's token, which opens any session. */
	session?: string;
	/**
	 * Client is this device's own random id, 16 hex digits; together with an
	 * operation's counter it makes every operation happen once.
	 */
	client: string;
	/** Wall asks for the read-only projector's view (with a coach's token). */
	wall?: boolean;
	resume?: Resume;
}

/** Resume says what a device has already. */
export interface Resume {
	epoch: string;
	/** seq of the last fact applied */
	have: number;
	/** its chain, as the hub sent it */
	chain: string;
}

/**
 * OpUp is a durable operation. It is answered by one Ack or one Refused, after
 * what it did is on stable storage.
 */
export interface OpUp {
	/** this client's count of his operations, from 1, no gaps */
	n: number;
	/** seq of the last fact he had seen */
	base?: number;
	op: Op;
}

/**
 * Op is one thing a member wants done. Do says what; the other fields are
 * those its row names, all others stay empty. Places are whole inches.
 *
 *   title   text                 name the session
 *   look    look                 put up a look of the book
 *   call    call                 call a coverage of the book
 *   side    side                 study the other side of the ball: the whole picture, spots included, as in a mirror
 *   ball    ball                 put the ball on a hash and yard line
 *   place   who, at              a man stands here now (also in a frozen moment)
 *   line    who, on              a man of the offense is on the line, or off it
 *   spot    spot, on             a spot of the call is on the board, or off it
 *   lineup  who                  that spot goes where its rule wants it; empty: all spots nobody holds
 *   motion  who, at, kind, via   send a man in motion to a place, he is there now; without who: back where he was
 *   freeze  play                 freeze the moment when the carrier of this play commits
 *   thaw                         back to the alignment
 *   snap    play, errors, lane, seed, mode  run a rep of this play from its beginning, at a speed
 *   roll    mode, ms             let the rep roll: walk | half | full, from ms after the snap
 *   stop    ms, mode             let the rep stand still, at ms after the snap
 *   set                          end the rep: everybody back in the alignment
 *   late    who, on              in a frozen moment: that spot is too late to count, or not
 *   blocks  blocks               in a frozen moment: who blocks whom
 *   floor   mode                 coach | own | all
 *   hide    on                   hide answers until each player commits
 *   commit                       this is my answer (a player in a hidden-answer session)
 *   door    mode                 open | knock | closed
 *   admit   member               let a waiting member in
 *   remove  member               take a member out of the session
 *   hold    spot                 take a free spot
 *   letgo                        let my spot go
 *   give    spot, member         the coach gives a spot to a member; empty member frees it
 *   board   picture              put a picture, or parts of it, back as it was
 */
export interface Op {
	do:
		| "title"
		| "look"
		| "call"
		| "side"
		| "ball"
		| "place"
		| "line"
		| "spot"
		| "lineup"
		| "motion"
		| "freeze"
		| "thaw"
		| "snap"
		| "roll"
		| "stop"
		| "set"
		| "late"
		| "blocks"
		| "floor"
		| "hide"
		| "commit"
		| "door"
		| "admit"
		| "remove"
		| "hold"
		| "letgo"
		| "give"
		| "board";
	text?: string;
	look?: string;
	call?: string;
	play?: string;
	side?: string;
	ball?: Ball;
	who?: string;
	at?: Place;
	kind?: "straight" | "push" | "jet" | "orbit" | "return" | "shift";
	/** places passed on the way, at most eight; absent: the kind's usual way */
	via?: Place[];
	on?: boolean;
	blocks?: Block[];
	mode?: string;
	member?: string;
	spot?: string;
	/** Errors are the rules that men break on purpose in this rep. */
	errors?: Broken[];
	/** Lane is the one the carrier must take; absent or -1: he chooses. */
	lane?: number;
	/** Seed draws the spread of real reps; absent or 0: everybody at his stated best. */
	seed?: number;
	/** Ms is a time of the rep, after the snap; absent: where the rep is now. */
	ms?: number;
	/** Picture is what the board operation puts back. */
	picture?: Picture;
}

/** Ball is where the ball lies. */
export interface Ball {
	rules: "nfhs" | "ncaa" | "pro";
	hash: "left" | "middle" | "right";
	/** 1..99 from the offense's own goal line */
	yard: number;
}

/** Place is a place on the field in whole inches from the ball: [x, y]. */
export type Place = [number, number];

/** Block is one man of the offense on one of the defense. */
export interface Block {
	by: string;
	on: string;
}

/** Broken is one rule that a man breaks on purpose. */
export interface Broken {
	spot: string;
	/** over-the-top | ducks-under | edge-lost | late | wrong-lane | ... */
	rule: string;
}

/**
 * Picture is what a board shows, or parts of it: what the board operation puts
 * back. An absent part stays as it is; any other replaces the state's whole, Men
 * and Spots with everybody who is not among them gone.
 */
export interface Picture {
	ball?: Ball;
	side?: "left" | "right";
	look?: string;
	call?: string;
	men?: Record<string, Man>;
	spots?: Record<string, Spot>;
	motion?: Motion;
	moment?: Moment;
}

/** Man is one man of the offense. */
export interface Man {
	at: Place;
	/** on the line of scrimmage */
	line: boolean;
}

/** Spot is one place of the defense, held by a player or by nobody. */
export interface Spot {
	at: Place;
	/** member id; empty if nobody holds it */
	by: string;
	/**
	 * Man is the jersey number of the man of the book's squad whose speed and
	 * depth count here; empty: the book's usual man of this kind.
	 */
	man: string;
}

/** Motion is one man on his way before the snap. */
export interface Motion {
	/** empty: nobody is in motion */
	who: string;
	from: Place;
	/** he is there now */
	to: Place;
	/** he was on the line before */
	line: boolean;
	/** Kind is how he goes, in the usual way of the kind; absent: straight. */
	kind?: "straight" | "push" | "jet" | "orbit" | "return" | "shift";
	/** Via are the places that he passes instead of the kind's usual way. */
	via?: Place[];
}

/** Moment is a frozen moment of a run: where everybody is then. */
export interface Moment {
	/** empty: nothing is frozen */
	play: string;
	carrier: string;
	/** men and spots */
	places: Record<string, Place>;
	blocks: Block[];
	/** spots too late to count */
	late: string[];
	/**
	 * Makes holds spots that are on their way to a lane they are in time for.
	 * Who has been moved by hand is not among them: he counts where he stands.
	 */
	makes: Record<string, Way>;
}

/** Way is a man on his way in a frozen moment. */
export interface Way {
	/** he is in time for it; -1: for none, he only helps */
	lane: number;
	/** inches a second */
	going: Place;
}

/**
 * Drag is passing: where a man is while he is dragged. It may be dropped and
 * is replaced by the next. A place op ends it.
 */
export interface Drag {
	who: string;
	at: Place;
	/** set by the hub: the member who drags */
	by?: string;
}

/** Point is passing: look here. Who is a tag or spot; or At is a place. */
export interface Point {
	who?: string;
	at?: Place;
	/** set by the hub */
	by?: string;
}

/**
 * Beat shows that the other end is alive. The hub sends one after 2 s without
 * another frame; the device answers each with its own, T copied.
 */
export interface Beat {
	/** the hub's time, ms; it only goes forward */
	t: number;
	/**
	 * RTT is how long the quickest beat of this connection was under way to the
	 * device and back, ms; absent: not known yet.
	 */
	rtt?: number;
}

/** Down is a frame from the hub to a device. */
export interface Down {
	welcome?: Welcome;
	facts?: Fact[];
	drags?: Drag[];
	verdicts?: Verdicts;
	rep?: Track;
	roster?: Roster;
	points?: Point[];
	acks?: Ack[];
	refused?: Refused[];
	beat?: Beat;
	bye?: Bye;
}

/**
 * Welcome answers Hello. If State is there, it replaces what the device has;
 * else the device goes on from what it had. Facts of the same frame follow.
 */
export interface Welcome {
	v: number;
	session: string;
	member: string;
	role: "coach" | "player" | "wall";
	epoch: string;
	/** of State, or of what the device had */
	seq: number;
	/** its chain */
	chain: string;
	state?: State;
	/** Counter is the last operation of this client that the hub has applied. */
	counter: number;
	/** the hub's time, ms, as in beats */
	t: number;
}

/** State is all that is durable about one session. */
export interface State {
	title: string;
	/** Book names the book whose looks, calls and plays the session uses. */
	book: string;
	ball: Ball;
	/** Side is the side of the ball under study, as the offense sees it. */
	side: "left" | "right";
	/** the look last put up; the men may have moved since */
	look: string;
	call: string;
	/** Men is the offense before the snap, by tag. */
	men: Record<string, Man>;
	/** Spots is the defense before the snap, by label. */
	spots: Record<string, Spot>;
	/** Motion is under way when Who is set: that man goes to To before the snap. */
	motion: Motion;
	/** Moment is set (Play not empty) while a moment of a run is frozen. */
	moment: Moment;
	/**
	 * Rep is set (Play not empty) while a rep is shown; the men stand where they
	 * stood before it. It and a frozen moment end each other.
	 */
	rep: Rep;
	/**
	 * Floor says who may move men: the coach only, players their own man
	 * too, or everybody any man.
	 */
	floor: "coach" | "own" | "all";
	/** Hidden: answers are not sent to a player before he commits. */
	hidden: boolean;
	/** Committed lists the spots whose players have committed, in order. */
	committed: string[];
	/**
	 * Door says what a right code gets: in at once, a place in the waiting
	 * list, or nothing.
	 */
	door: "open" | "knock" | "closed";
	members: Record<string, Member>;
}

/**
 * Rep is one run of a play for everybody to see. It says what is run and where
 * the run is; the track follows from it and from the alignment. Times of the rep
 * are milliseconds after the snap.
 */
export interface Rep {
	/** empty: there is no rep */
	play: string;
	/** Errors are the rules broken on purpose, by spot. */
	errors: Record<string, string>;
	/** the one the carrier must take; -1: he chooses */
	lane: number;
	/** Seed draws the spread of real reps; 0: everybody at his stated best. */
	seed: number;
	/** where it begins, below 0 while a motion goes before the snap */
	from: number;
	until: number;
	speed: "walk" | "half" | "full" | "";
	/** where it stands, or from where it rolls */
	at: number;
	/** Since is the hub's time when it begins or began to roll; 0: it stands. */
	since: number;
}

/** Member is a device that has joined. */
export interface Member {
	role: "coach" | "player" | "wall";
	/** false: waiting to be let in */
	in: boolean;
}

/** Fact is one durable change, on stable storage. */
export interface Fact {
	seq: number;
	/** running checksum, only ever echoed by a device */
	chain: string;
	/** whose operation made it; absent: the hub's own */
	client?: string;
	/** that client's count of it */
	n?: number;
	do: string;
	set: Change;
}

/**
 * Change is what one operation makes of a state. A nil field stays as it was;
 * any other replaces the state's field whole, except that Men, Spots and
 * Members hold only the entries that change, nil removing one.
 */
export interface Change {
	title?: string;
	book?: string;
	ball?: Ball;
	side?: "left" | "right";
	look?: string;
	call?: string;
	men?: Record<string, Man | null>;
	spots?: Record<string, Spot | null>;
	motion?: Motion;
	moment?: Moment;
	rep?: Rep;
	floor?: "coach" | "own" | "all";
	hidden?: boolean;
	committed?: string[];
	door?: "open" | "knock" | "closed";
	members?: Record<string, Member | null>;
}

/**
 * Verdicts is what the engine says of the board as it stands, drags included.
 * It is passing: the next one replaces it whole. On a device that may not see an
 * answer yet, that answer is absent.
 */
export interface Verdicts {
	/** seq of the facts it was made on */
	on: number;
	/** made with men under a finger */
	live: boolean;
	look: LookAnswer;
	/** Spots holds full answers: a player's own, all of them for coach and wall. */
	spots: Record<string, SpotAnswer>;
	/** Signs holds every spot's short answer: yes, contested, no. */
	signs: Record<string, "yes" | "contested" | "no">;
	lanes: LaneAnswer[];
	sound: boolean;
	faults: FaultAnswer[];
}

/** LookAnswer says whether the look is legal and who is which number. */
export interface LookAnswer {
	legal: boolean;
	violations: string[];
	/** Notes tell what is legal but worth knowing. */
	notes: string[];
	numbers: Numbers;
	/** Way is how the man in motion goes; absent: nobody does. */
	way?: WayAnswer;
}

/** Numbers lists receivers' tags by side, #1 first. */
export interface Numbers {
	right: string[];
	left: string[];
}

/**
 * WayAnswer is the way of the man in motion. Times are seconds from the snap,
 * before it negative.
 */
export interface WayAnswer {
	start_s: number;
	/** [x, y] in inches, from where he starts */
	path: [number, number][];
	/** when the numbers change, first one first */
	changes: CountAnswer[];
}

/**
 * CountAnswer is a moment at which a motion changes the numbers: when, where the
 * man in motion is then, in inches, and who counts how from then on.
 */
export interface CountAnswer {
	t_s: number;
	at: [number, number];
	numbers: Numbers;
}

/** SpotAnswer is all a defender needs. */
export interface SpotAnswer {
	spot: string;
	/** the side of the ball he plays */
	half: "left" | "right";
	rule: RuleAnswer;
	leverage: LeverageAnswer;
	fix: FixAnswer;
	assignment: AssignmentAnswer;
	/** Pocket is sent to the man himself, and only while nobody is dragged. */
	pocket: PocketAnswer | null;
}

/** RuleAnswer says whether he stands where his call wants him. */
export interface RuleAnswer {
	verdict: "right" | "wrong-side" | "too-tight" | "too-wide" | "too-deep" | "too-shallow";
	/** what he lines up off, "#2" */
	landmark: string;
	side: "inside" | "head-up" | "outside";
	/** yards, [x to the offense's right, y deeper], to the nearest place that is right */
	move: [number, number];
	/** Box is where the rule lets him stand: [least x, least y, most x, most y] in inches. */
	box: [number, number, number, number];
	because: string;
}

/** LeverageAnswer says whether he can hold what his job gives him to hold. */
export interface LeverageAnswer {
	keeps: "yes" | "contested" | "no";
	/** seconds to spare in the least race; null: his job has no race here */
	margin_s: number | null;
	/** the same in yards at his speed */
	margin_yd: number | null;
	/** the play that decides */
	against: string;
	race: "hat" | "alley" | "edge" | "top" | "";
	/** the man who can beat him: blocker or carrier */
	by: string;
	because: string;
}

/** FixAnswer is the one change that brings him right. */
export interface FixAnswer {
	/** inches, [x to the offense's right, y deeper]; [0,0]: stay */
	move: [number, number];
	/** "1½ yd inside, 1 deeper" */
	say: string;
}

/**
 * AssignmentAnswer is his card. Words come from the call; numbers are resolved
 * to tags. Plays and Rules tell in full what Fit and Pass say in one line.
 */
export interface AssignmentAnswer {
	align: string;
	eyes: string;
	fit: string;
	block: string;
	pass: string;
	/** his part against each kind of play */
	plays: string[];
	/** all his pass rules */
	rules: string[];
	/** side of his man his hat must be on */
	hat: "inside" | "outside" | "either";
	/** tag of the man he reads first, "" if none is out there */
	key: string;
	/** tag of the man who can block him first, "" if none */
	on: string;
}

/**
 * PocketAnswer is where a man may stand and still keep everything, the others
 * standing where they are: closed outlines of [x, y] in inches. Maybe includes
 * the places where it is contested.
 */
export interface PocketAnswer {
	keeps: [number, number][][];
	maybe: [number, number][][];
}

/** LaneAnswer is one lane, from the box edge (0) outwards. */
export interface LaneAnswer {
	n: number;
	inside: string;
	outside: string;
	shut_by: string;
	fit_by: string;
	gain_yd: number | null;
	/** x of its inner and outer edge in inches */
	span: [number, number];
}

/** FaultAnswer is one broken rule, first cause first. */
export interface FaultAnswer {
	who: string;
	kind: string;
	/** lane; null: opens nothing */
	opens: number | null;
	saved_by: string;
	cost_yd: number | null;
	because: string;
}

/**
 * Track is one rep as it runs: where everybody is at every key, and what
 * happens. It is sent once for a rep; where the rep is on it at a moment, the
 * state's rep and the hub's time say. What a device may not see yet is absent.
 */
export interface Track {
	/** the rep's */
	play: string;
	/** of the first key, ms after the snap */
	from: number;
	/** ms between keys */
	step: number;
	/** Men are tags of the offense, Spots labels of the defense. */
	men: string[];
	spots: string[];
	/**
	 * Keys has a list for every man, then for every spot: x and y at the first
	 * key in inches, then how x and y change to each key after it. Between two
	 * keys a man goes straight at an even pace.
	 */
	keys: number[][];
	/** the same of the ball */
	ball: number[];
	/** Events are in order of time. */
	events: TrackEvent[];
	lanes: TrackLanes[];
	owners: TrackOwners[];
	/** first cause first */
	faults: FaultAnswer[];
	/** of a pass: who could be thrown to */
	free: TrackFree[];
	/**
	 * Breaks lists, by spot, the rules that his job lets him break on purpose;
	 * for coaches.
	 */
	breaks: Record<string, string[]>;
	end: TrackEnd;
}

/** TrackEvent is one thing that happens in a rep: Who does it, To whom. */
export interface TrackEvent {
	/** ms after the snap */
	t: number;
	/**
	 * What is one of: motion, bump, snap, key, ball, catch, block, commit, cut,
	 * declare, shed, replace, match, too early, free, tackle, out of bounds,
	 * broke, no throw, broken up. A device passes over any other.
	 */
	what: string;
	who?: string;
	to?: string;
	/** of a commit or a cut */
	lane?: number;
	/** in the staff's words, one short line */
	say?: string;
}

/** TrackLanes is the lanes from a time on, until the next. */
export interface TrackLanes {
	t: number;
	lanes: LaneAnswer[];
	/** the lane the carrier is on his way to; -1: not chosen yet */
	takes: number;
}

/** TrackOwners says from a time on, until the next, whom each spot answers for. */
export interface TrackOwners {
	t: number;
	/** receivers' tags by spot */
	of: Record<string, string>;
	/** receivers nobody answers for */
	unowned: string[];
}

/** TrackFree is a receiver and the best ball he could get. */
export interface TrackFree {
	who: string;
	/** ms after the snap */
	thrown: number;
	/** seconds by which the ball beats the nearest defender; below 0: it does not */
	margin_s: number;
	free: boolean;
}

/** TrackEnd is how a rep ended. */
export interface TrackEnd {
	t: number;
	/** cut where the model ends */
	gain_yd: number;
	/** 10 yards or more */
	broke: boolean;
	/** How is one of: tackled, out of bounds, broke, no throw, broken up, whistle. */
	how: string;
	/** who made the tackle */
	by: string;
	/** who was on the other hip */
	with: string;
	/** where the tackler was: near, far, front or not known */
	hip: string;
	/** [x, y] */
	at: [number, number];
	/** where the ball went; -1: none */
	lane: number;
	/** of a pass: who has it */
	caught: string;
}

/** Roster is who is here. It is sent whole whenever it changes. */
export interface Roster {
	people: Person[];
	/**
	 * Code and Link are sent to coaches and walls only, while the door is not
	 * closed.
	 */
	code?: string;
	link?: string;
}

/** Person is one member as others see him. */
export interface Person {
	member: string;
	/** short name */
	name: string;
	/** jersey */
	number: string;
	role: "coach" | "player" | "wall";
	in: boolean;
	/** has a live connection */
	here: boolean;
	spot: string;
}

/**
 * Ack says that operation N is durable, as fact Seq. Seq is 0 if the operation
 * changed nothing.
 */
export interface Ack {
	n: number;
	seq: number;
	epoch: string;
}

/**
 * Refused says that operation N was not done and why; nothing changed. N is 0
 * for a frame that could not be read as an operation.
 */
export interface Refused {
	n: number;
	code: string;
	detail?: string;
	/** RetryMS asks to send the same operation again after this long. */
	retry_ms?: number;
}

/**
 * Bye is the last frame before the hub closes a connection. The websocket
 * close code says what to do: 4000-4499 come back and resume, 4500-4999 stop
 * and tell the person why.
 */
export interface Bye {
	code: string;
	/** come back after a random part of this */
	wait_ms?: number;
}

/** CoachIn carries the key from the coach's link (the part after #coach=). */
export interface CoachIn {
	key: string;
}

/** TokenOut carries a new token. */
export interface TokenOut {
	token: string;
}

/**
 * JoinIn asks to join by code. Name is a short name (1-12 characters), Number a
 * jersey (0-3 digits).
 */
export interface JoinIn {
	code: string;
	name: string;
	number: string;
}

/**
 * JoinOut says who the device is now. If In is false the coach must let him
 * in; the live connection works meanwhile and tells when he is.
 */
export interface JoinOut {
	token: string;
	session: string;
	member: string;
	in: boolean;
}

/** SessionIn starts a session. */
export interface SessionIn {
	title: string;
	/** default: the demo book */
	book?: string;
}

/** SessionOut is one session in a list. */
export interface SessionOut {
	id: string;
	title: string;
	/** live connections */
	here: number;
}

/** SessionsOut lists sessions, newest last. */
export interface SessionsOut {
	sessions: SessionOut[];
}

/** CodeOut is a fresh join code and the link a QR code carries. */
export interface CodeOut {
	code: string;
	link: string;
}

/** QROut is a QR code drawn as squares of side 1. */
export interface QROut {
	/** modules along one side, the quiet border not counted */
	size: number;
	/** SVG path of the dark modules */
	path: string;
}

/** BookOut is what the client needs of a book. */
export interface BookOut {
	name: string;
	looks: BookLook[];
	calls: BookCall[];
	plays: BookPlay[];
	squad: BookMan[];
	/** Caution is shown wherever contact is. */
	caution: string;
}

/** BookLook is one look. */
export interface BookLook {
	id: string;
	name: string;
	side: "left" | "right";
	ball: Ball;
	men: Record<string, Man>;
	/** play ids */
	menu: string[];
}

/** BookCall is one call. */
export interface BookCall {
	id: string;
	name: string;
	spots: BookSpot[];
}

/** BookSpot is one spot of a call with its label. */
export interface BookSpot {
	spot: string;
	label: string;
	name: string;
}

/** BookPlay is one play. */
export interface BookPlay {
	id: string;
	name: string;
	/** a pass has no lanes to freeze */
	kind: "toss" | "swing" | "bubble" | "now" | "pass";
}

/** BookMan is one man of the squad: whom a spot usually goes to. */
export interface BookMan {
	number: string;
	name: string;
	spot: string;
}

/**
 * CostOut is what the errors of the rep that is shown cost: its play run many
 * times with spread, right and with the errors, on the same seeds.
 */
export interface CostOut {
	play: string;
	/** by spot */
	errors: Broken[];
	/** the one the carrier must take, right and wrong; -1: he chooses */
	lane: number;
	/** each way */
	reps: number;
	right: CostSpread;
	wrong: CostSpread;
	/**
	 * SavedBy is who, of the others, made most tackles within the limit in spite
	 * of the errors, "" if nobody made one, and Saved the share of reps in which
	 * he did. Themselves is the share in which those at fault made it.
	 */
	saved_by: string;
	saved: number;
	themselves: number;
}

/**
 * CostSpread is the outcome of many reps. Gains are yards, cut by the model at 15.
 * Of a pass they are null: it is about who is free.
 */
export interface CostSpread {
	p10: number | null;
	median: number | null;
	p90: number | null;
	/** share of 10 yd or more */
	broke: number | null;
	/** of a pass: share of reps with somebody free */
	free: number | null;
}

/** RestsOut is what one man's answer rests on. */
export interface RestsOut {
	spot: string;
	/** the play that decides, "" if his job has no race */
	against: string;
	/** the man who can beat him */
	by: string;
	/** those that are his first */
	rests: Rest[];
}

/**
 * Rest is one assumption: a number, how well it is founded, and where it is
 * changed.
 */
export interface Rest {
	/** "N: top speed" */
	say: string;
	value: number;
	/** "" for a share */
	unit: string;
	status: "published" | "derived" | "common practice" | "chosen";
	source: string;
	/** "athletes in a book", "not by a book" */
	change: string;
}

/** ErrorOut is the body of every refusal over HTTP. */
export interface ErrorOut {
	code: string;
	/** one plain sentence */
	say: string;
}
