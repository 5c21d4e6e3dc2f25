// Which screen is shown: from the address, and from what this browser keeps.
import { useEffect, useMemo, useState } from "preact/hooks";
import { Player } from "../card/Player.tsx";
import { browserClock, dialer } from "../sync/clock.ts";
import { newId } from "../sync/keep.ts";
import { SUBPROTOCOL } from "../wire/types.ts";
import { Coach } from "./Coach.tsx";
import { coachToken, endPass, keep, loadPass, onWake, type Pass, stayAwake } from "./device.ts";
import { CoachDoor, Join } from "./Home.tsx";
import { type Route, readRoute, secret } from "./route.ts";
import { Seat } from "./seat.ts";
import { Wall } from "./Wall.tsx";

/** take reads the address and hides what must not stay in it. */
function take(): Route {
	const r = readRoute(location.hash);
	if (secret(r)) history.replaceState(null, "", location.pathname);
	return r;
}

const sit = (token: string, more: { session?: string; wall?: boolean; key: string }): Seat =>
	new Seat(
		{ token, ...more },
		{
			clock: browserClock,
			dial: dialer(location, SUBPROTOCOL),
			keep,
			newId,
			hidden: () => document.visibilityState === "hidden",
		},
	);

/** useSeat keeps one seat while its target stays the same. */
function useSeat(make: () => Seat, by: string): Seat {
	const seat = useMemo(make, [by]);
	useEffect(() => {
		current = seat;
		seat.start();
		void stayAwake();
		return () => {
			current = null;
			seat.stop();
		};
	}, [seat]);
	return seat;
}

let current: Seat | null = null;
onWake(() => {
	current?.link.wake();
	if (current !== null) void stayAwake();
});

function PlayerSeat({ pass, leave }: { pass: Pass; leave: () => void }) {
	const seat = useSeat(() => sit(pass.token, { key: `${pass.session}.player` }), pass.token);
	return <Player seat={seat} leave={leave} />;
}

function CoachSeat({
	session,
	token,
	leave,
}: {
	session: string;
	token: string;
	leave: () => void;
}) {
	const seat = useSeat(() => sit(token, { session, key: `${session}.coach` }), session);
	return <Coach seat={seat} session={session} leave={leave} />;
}

function WallSeat({ session, token }: { session: string; token: string }) {
	const seat = useSeat(() => sit(token, { session, wall: true, key: `${session}.wall` }), session);
	return <Wall seat={seat} session={session} />;
}

export function App() {
	const [route, setRoute] = useState(take);
	const [pass, setPass] = useState(loadPass);
	useEffect(() => {
		const change = () => setRoute(take());
		addEventListener("hashchange", change);
		return () => removeEventListener("hashchange", change);
	}, []);
	const go = (r: Route, hash: string) => {
		history.replaceState(null, "", `${location.pathname}${hash}`);
		setRoute(r);
	};
	const toSession = (session: string) =>
		go({ kind: "session", session }, `#s=${encodeURIComponent(session)}`);
	const toWall = (session: string) =>
		go({ kind: "wall", session }, `#wall=${encodeURIComponent(session)}`);
	const token = coachToken();
	const leave = () => {
		endPass();
		setPass(loadPass());
		go({ kind: "home", code: "" }, "");
	};

	switch (route.kind) {
		case "coach":
			return <CoachDoor secretKey={route.key} choose={route.key === ""} open={toSession} />;
		case "session":
			if (token === null) return <CoachDoor secretKey="" open={toSession} />;
			return (
				<CoachSeat
					session={route.session}
					token={token}
					leave={() => go({ kind: "coach", key: "" }, "#coach=")}
				/>
			);
		case "wall":
			if (route.session === "" || token === null) return <CoachDoor secretKey="" open={toWall} />;
			return <WallSeat session={route.session} token={token} />;
		case "home": {
			// A fresh code means a fresh start, unless it is the one we came in with.
			if (pass !== null && pass.token !== "" && (route.code === "" || route.code === pass.code)) {
				return <PlayerSeat pass={pass} leave={leave} />;
			}
			return (
				<Join
					key={route.code}
					code={route.code}
					joined={(p) => {
						setPass(p);
						go({ kind: "home", code: "" }, "");
					}}
					coach={() => go({ kind: "coach", key: "" }, "#coach=")}
				/>
			);
		}
	}
}
