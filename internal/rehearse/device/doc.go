// Package device is a phone, coach's tablet or wall in Go: it joins over HTTP,
// speaks the live protocol as PROTOCOL.md tells it to strangers, and keeps the
// state that the hub's facts make. Every exchange is held against the published
// documents.
//
//	b := device.Browser{T: t, Base: "http://127.0.0.1:8080"}
//	d := b.Open(wire.Hello{Token: b.Join(code, "Ty", "21").Token})
//	d.Must(session.Op{Do: "hold", Spot: "N"})
//	d.Until("the call is there", func(v *device.View) bool { return v.State.Call == "man" })
//
// It is for tests only and knows nothing of how the server is built.
package device
