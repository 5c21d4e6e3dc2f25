import { render } from "preact";
import { App } from "./ui/App.tsx";

const root = document.getElementById("app");
if (root !== null) render(<App />, root);
