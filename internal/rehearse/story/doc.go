// Package story plays whole practices on a running server with real browsers:
// a coach, phones with fingers, a wall. It has tests only.
package story
