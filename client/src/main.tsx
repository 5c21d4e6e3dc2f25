import { render } from "preact";
import { App } from "./ui/App.tsx";
import { showTheme } from "./ui/device.ts";

showTheme();
const root = document.getElementById("app");
if (root !== null) render(<App />, root);
