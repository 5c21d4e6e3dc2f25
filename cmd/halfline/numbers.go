package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// number is one number of an answer, or one list of them, and what stands beside
// it.
type number struct {
	path          []string
	value         string
	because       string
	who, by       string
	race, against string
}

// numbersOf lists the numbers of an answer in the order in which they stand.
func numbersOf(raw json.RawMessage) ([]number, error) {
	w := walker{}
	err := w.value(raw, nil, number{})
	return w.found, err
}

type walker struct{ found []number }

// member is one member of an object, in its order.
type member struct {
	key string
	raw json.RawMessage
}

func (w *walker) value(raw json.RawMessage, path []string, near number) error {
	switch raw[0] {
	case '{':
		return w.object(raw, path, near)
	case '[':
		return w.list(raw, path, near)
	case '-', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9':
		n := near
		n.path, n.value = slices.Clone(path), string(raw)
		w.found = append(w.found, n)
	}
	return nil
}

func (w *walker) object(raw json.RawMessage, path []string, near number) error {
	ms, err := membersOf(raw)
	if err != nil {
		return err
	}
	for _, m := range ms {
		text := func() (s string) { _ = json.Unmarshal(m.raw, &s); return s } // another kind is no name
		switch m.key {
		case "spot", "who":
			near.who = text()
		case "by":
			near.by = text()
		case "race":
			near.race = text()
		case "against":
			near.against = text()
		case "because":
			near.because = text()
		}
	}
	for _, m := range ms {
		if err := w.value(m.raw, append(path, m.key), near); err != nil {
			return err
		}
	}
	return nil
}

func (w *walker) list(raw json.RawMessage, path []string, near number) error {
	var items []json.RawMessage
	if err := json.Unmarshal(raw, &items); err != nil {
		return err
	}
	if len(items) > 0 && items[0][0] != '{' && items[0][0] != '[' && items[0][0] != '"' {
		n := near
		n.path, n.value = slices.Clone(path), strings.ReplaceAll(string(raw), ",", ", ")
		w.found = append(w.found, n)
		return nil
	}
	for i, item := range items {
		if err := w.value(item, append(path, nameOf(item, i)), near); err != nil {
			return err
		}
	}
	return nil
}

// nameOf names an element of a list by the man it is about, else by its place.
func nameOf(raw json.RawMessage, i int) string {
	var of struct{ Spot, Who, Error, Kind, By, On string }
	if raw[0] == '{' {
		_ = json.Unmarshal(raw, &of) // what is no text names nothing
	}
	switch {
	case of.Spot != "":
		return of.Spot
	case of.Who != "" && of.Error != "":
		return of.Who + " " + of.Error
	case of.Who != "" && of.Kind != "":
		return of.Who + " " + of.Kind
	case of.By != "" && of.On != "":
		return of.By + " on " + of.On
	}
	return fmt.Sprint(i)
}

func membersOf(raw json.RawMessage) ([]member, error) {
	dec := json.NewDecoder(bytes.NewReader(raw))
	if _, err := dec.Token(); err != nil {
		return nil, err
	}
	var out []member
	for dec.More() {
		k, err := dec.Token()
		if err != nil {
			return nil, err
		}
		m := member{key: k.(string)}
		if err := dec.Decode(&m.raw); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}
