// Package wiretest holds what really travels against the published documents:
// frames against the JSON Schemas, HTTP exchanges against the OpenAPI document.
// Tests of the hub, of handlers and of clients send everything through it.
//
// It is for tests only, and asserts form, not sense: whether a fact is the right
// one is for the test to say.
//
//	v := wiretest.Validator()
//	v.Up(t, sent)
//	v.Down(t, received)
//	client := &http.Client{Transport: v.Transport(t, nil)}
package wiretest
