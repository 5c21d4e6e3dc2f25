// Package build turns the sources of the web client into the files that the
// server hands out. It knows the bundler and the shape of the output, and
// nothing of the client's own business; only tests and chores import it, so
// that the bundler never gets into the served binary.
//
// What Build returns, by slash-separated path:
//
//	index.html              from src/index.html, its two references replaced
//	assets/app-<sum>.js     src/main.tsx and all it imports, one file
//	assets/app-<sum>.css    src/app.css and all it imports
//	<anything>              copied from src/static, if that folder exists
//	NOTICES.txt             licence texts of the packages inside the bundle
//
// The same sources give the same bytes on every machine and in every folder,
// which is what lets a test compare them with the committed files.
package build
