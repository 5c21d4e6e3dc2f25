package gen

import (
	"fmt"
	"strconv"
	"strings"

	"halfline/internal/wire/shape"
)

// lineWidth and tabWidth are those of the client's formatter (biome.json), so
// that printed types need no formatting.
const (
	lineWidth = 100
	tabWidth  = 2
)

const header = "Generated from the Go types of internal/wire by `go run ./cmd/dev gen`: change those, not this."

// typeScript prints the client's types.
func typeScript(src *source) []byte {
	p := &tsPrinter{src: src, done: map[*shape.Shape]bool{}}
	p.line("// " + header)
	p.constants()
	for _, t := range roots {
		p.declare(shape.Of(t))
	}
	return []byte(p.out.String())
}

type tsPrinter struct {
	src  *source
	out  strings.Builder
	done map[*shape.Shape]bool
}

func (p *tsPrinter) line(s string) { p.out.WriteString(s + "\n") }

// constants prints the version and the code tables.
func (p *tsPrinter) constants() {
	p.line("\n/** The protocol's version, sent in hello. */")
	p.line("export const VERSION = " + p.src.value("wire", "Version") + ";")
	p.line("\n/** The protocol's name in the websocket handshake. */")
	p.line("export const SUBPROTOCOL = " + quote(p.src.value("wire", "Subprotocol")) + ";")
	p.line("\n/** Close codes: 4000-4499 come back and resume, 4500-4999 stop and say why. */")
	p.table("Close", p.src.codes("wire", "Close"), "Close")
	p.line("\n/** Codes of refusals. Another code may come from a later hub. */")
	p.table("Code", append(p.src.codes("session", "Code"), p.src.codes("wire", "Code")...), "Code")
	p.line("export type RefusalCode = (typeof Code)[keyof typeof Code];")
}

func (p *tsPrinter) table(name string, rows []named, prefix string) {
	p.line("export const " + name + " = {")
	for _, c := range rows {
		p.doc("\t", c.Doc)
		value := c.Value
		if c.Text {
			value = quote(value)
		}
		p.line("\t" + strings.TrimPrefix(c.Name, prefix) + ": " + value + ",")
	}
	p.line("} as const;")
}

// declare prints s after everything it is made of has been queued: parents
// first, so that the file reads from frames down to parts.
func (p *tsPrinter) declare(s *shape.Shape) {
	if p.done[s] {
		return
	}
	p.done[s] = true
	if s.Name != "" && (s.Kind == shape.Object || s.Kind == shape.Tuple) {
		p.line("")
		p.doc("", p.src.docs[s.Package+"."+s.Name])
		if s.Kind == shape.Tuple {
			p.line("export type " + s.Name + " = " + tsTuple(s) + ";")
		} else {
			p.line("export interface " + s.Name + " {")
			for _, f := range s.Fields {
				p.field(s, f)
			}
			p.line("}")
		}
	}
	for _, f := range s.Fields {
		p.declare(f.Shape)
	}
	if s.Elem != nil {
		p.declare(s.Elem)
	}
}

func (p *tsPrinter) field(s *shape.Shape, f shape.Field) {
	p.doc("\t", p.src.docs[s.Package+"."+s.Name+"."+f.GoName])
	key := f.Key
	if f.Optional {
		key += "?"
	}
	union := tsUnion(f)
	if f.Null {
		union = append(union, "null")
	}
	one := key + ": " + strings.Join(union, " | ") + ";"
	if tabWidth+len(one) <= lineWidth {
		p.line("\t" + one)
		return
	}
	p.line("\t" + key + ":")
	for i, u := range union {
		end := ""
		if i == len(union)-1 {
			end = ";"
		}
		p.line("\t\t| " + u + end)
	}
}

// tsUnion lists the alternatives of a field's type.
func tsUnion(f shape.Field) []string {
	if f.Enum == nil {
		return []string{tsType(f.Shape)}
	}
	words := make([]string, len(f.Enum))
	for i, e := range f.Enum {
		words[i] = quote(e)
	}
	switch f.Shape.Kind {
	case shape.Map:
		return []string{"Record<string, " + strings.Join(words, " | ") + ">"}
	case shape.List:
		return []string{"(" + strings.Join(words, " | ") + ")[]"}
	}
	return words
}

func tsType(s *shape.Shape) string {
	if s.Name != "" && (s.Kind == shape.Object || s.Kind == shape.Tuple) {
		return s.Name
	}
	switch s.Kind {
	case shape.String:
		return "string"
	case shape.Boolean:
		return "boolean"
	case shape.Integer, shape.Number:
		return "number"
	case shape.List:
		return tsType(s.Elem) + "[]"
	case shape.Tuple:
		return tsTuple(s)
	case shape.Map:
		elem := tsType(s.Elem)
		if s.ElemNull {
			elem += " | null"
		}
		return "Record<string, " + elem + ">"
	}
	panic(fmt.Sprintf("gen: a %s has no type in the client", s.Kind))
}

func tsTuple(s *shape.Shape) string {
	elems := make([]string, s.Len)
	for i := range elems {
		elems[i] = tsType(s.Elem)
	}
	return "[" + strings.Join(elems, ", ") + "]"
}

// doc prints a comment; lines keep their breaks.
func (p *tsPrinter) doc(indent, text string) {
	if text == "" {
		return
	}
	lines := strings.Split(text, "\n")
	if len(lines) == 1 {
		p.line(indent + "/** " + text + " */")
		return
	}
	p.line(indent + "/**")
	for _, l := range lines {
		p.line(strings.TrimRight(indent+" * "+strings.ReplaceAll(l, "\t", "  "), " "))
	}
	p.line(indent + " */")
}

func quote(s string) string { return strconv.Quote(s) }
