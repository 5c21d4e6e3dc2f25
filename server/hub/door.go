package hub

import (
	"context"
	"encoding/json"
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
		o.sendRoster()
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
	_, err = o.ask(ctx, func(reply func(uint64, error)) {
		code, link = o.door.code, o.door.link
		reply(0, nil)
	})
	return code, link, err
}

// ErrDoorClosed says that the coach has closed the door.
var ErrDoorClosed = fmt.Errorf("the door is closed")

// Join makes a new member of a session: let in at once if the door is open, on
// the waiting list if one must knock. It returns when that is durable.
func (h *Hub) Join(ctx context.Context, id, name, number string) (member string, in bool, err error) {
	o, err := h.open(ctx, id)
	if err != nil {
		return "", false, err
	}
	member = randomID()
	raw, err := json.Marshal(person{name, number})
	if err != nil {
		return "", false, err
	}
	// The name goes into the side table first: a member without a name would be
	// nobody, a name without a member is swept when the session goes.
	if err := h.store.PutItem(ctx, id, member, raw); err != nil {
		return "", false, fmt.Errorf("join session %s: %w", id, err)
	}
	_, err = o.ask(ctx, func(reply func(uint64, error)) {
		if o.head.Door == session.DoorClosed {
			reply(0, ErrDoorClosed)
			return
		}
		c, r := session.Join(&o.head, member, session.Player)
		if r != nil {
			reply(0, r)
			return
		}
		in = c.Members[member].In
		o.people[member] = person{name, number}
		o.submit("join", c, 0, 0, reply)
	})
	if err != nil {
		// best effort: nobody will know this member, only his name would stay
		if derr := h.store.DeleteItem(context.WithoutCancel(ctx), id, member); derr != nil {
			h.log.Warn("name of nobody stays", "session", id, "err", derr)
		}
		return "", false, err
	}
	return member, in, nil
}

// forgetPerson takes a person out of the side table, aside from the owner.
func (o *owner) forgetPerson(member string) {
	o.spawn(func() { // ends with the store's answer, at most saveWithin; Close waits
		ctx, cancel := context.WithTimeout(context.Background(), saveWithin)
		defer cancel()
		if err := o.store.DeleteItem(ctx, o.id, member); err != nil {
			o.log.Warn("name not deleted", "err", err)
		}
	})
}
