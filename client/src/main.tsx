import { signal } from "@preact/signals";
import { render } from "preact";

const title = signal("Halfline");

const root = document.getElementById("app");
if (root !== null) {
	render(<h1>{title}</h1>, root);
}
