// Package web is the HTTP face: the client's files, joining, the coach's
// endpoints, the upgrade to a live connection, health. It joins hub, conn and
// gate, which do not know each other, and decides nothing about football or
// about who may do what in a session.
package web
