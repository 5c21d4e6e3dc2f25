package hub

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"halfline/internal/session"
)

// doorCode is the join code that is shown now, and its link. The hub only shows
// it; whoever checks codes gave it here.
type doorCode struct{ code, link string }

// ShowCode puts a join code on the screens of coaches and walls.
func (h *Hub) ShowCode(ctx context.Context, id, code, link string) error {
	o, err := h.open(ctx, id)
	if err != nil {
		return err
	}
	_, err = o.ask(ctx, func(reply func(uint64, error)) {
		o.door = doorCode{code, link}
		o.rosterDue = true
		reply(0, nil)
	})
	return err
}

// Code gives the code shown now; empty if none was drawn since the start.
func (h *Hub) Code(ctx context.Context, id string) (code, link string, err error) {
	o, err := h.open(ctx, id)
	if err != nil {
		return "", "", err
	}
	got := make(chan doorCode, 1)
	if _, err := o.ask(ctx, func(reply func(uint64, error)) {
		got <- o.door
		reply(0, nil)
	}); err != nil {
		return "", "", err
	}
	d := <-got
	return d.code, d.link, nil
}

// ErrDoorClosed says that the coach has closed the door.
var ErrDoorClosed = errors.New("the door is closed")

// Join makes a new member of a session: let in at once if the door is open, on
// the waiting list if one must knock. It returns when that is durable.
func (h *Hub) Join(ctx context.Context, id, name, number string) (member string, in bool, err error) {
	o, err := h.open(ctx, id)
	if err != nil {
		return "", false, err
	}
	member = randomID()
	p := person{name, number}
	raw, err := json.Marshal(p)
	if err != nil {
		return "", false, err
	}
	// The name goes into the side table first: a member without a name would be
	// nobody, a name without a member is swept when the session is loaded.
	if err := h.store.PutItem(ctx, id, member, raw); err != nil {
		return "", false, fmt.Errorf("join session %s: %w", id, err)
	}
	let := make(chan bool, 1)
	if _, err := o.ask(ctx, func(reply func(uint64, error)) { o.join(member, p, let, reply) }); err != nil {
		// best effort: nobody will know this member, only his name would stay
		if derr := h.store.DeleteItem(context.WithoutCancel(ctx), id, member); derr != nil {
			h.log.Warn("name of nobody stays", "session", id, "err", derr)
		}
		return "", false, err
	}
	return member, <-let, nil
}

func (o *owner) join(member string, p person, let chan<- bool, reply func(uint64, error)) {
	if o.head.Door == session.DoorClosed {
		reply(0, ErrDoorClosed)
		return
	}
	c, r := session.Join(&o.head, member, session.Player)
	if r != nil {
		reply(0, r)
		return
	}
	o.people[member] = p
	o.submit("join", c, 0, 0, func(seq uint64, err error) {
		if err != nil {
			delete(o.people, member)
		} else {
			let <- c.Members[member].In
		}
		reply(seq, err)
	})
}

// forgetPerson takes a person out of the side table, aside from the owner.
func (o *owner) forgetPerson(member string) {
	o.spawn(func() { // ends with the store's answer, at most saveWithin; Close waits
		ctx, cancel := context.WithTimeout(context.Background(), saveWithin)
		defer cancel()
		if err := o.store.DeleteItem(ctx, o.id, member); err != nil {
			o.log.Warn("name not deleted, the next load of the session tries again", "err", err)
		}
	})
}
