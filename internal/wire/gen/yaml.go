package gen

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// yamlText prints a tree as YAML 1.2. It knows four forms only: block objects and
// lists, lists of scalars on one line, and texts of several lines as they stand.
// Every other text is plain or quoted as in JSON, which YAML 1.2 reads alike.
func yamlText(comment string, tree obj) []byte {
	p := yamlPrinter{}
	p.out.WriteString("# " + comment + "\n")
	p.object(tree, "")
	return []byte(p.out.String())
}

type yamlPrinter struct{ out strings.Builder }

func (p *yamlPrinter) object(o obj, indent string) {
	for i, m := range o {
		if i > 0 || indent == "" {
			p.out.WriteString(indent)
		}
		p.out.WriteString(scalar(m.Key) + ":")
		p.value(m.Value, indent+"  ")
	}
}

// value prints what follows "key:" or "-"; indent is that of lines below it.
func (p *yamlPrinter) value(v any, indent string) {
	switch v := v.(type) {
	case obj:
		if len(v) == 0 {
			p.out.WriteString(" {}\n")
			return
		}
		p.out.WriteString("\n" + indent)
		p.object(v, indent)
	case []any:
		p.list(v, indent)
	case string:
		if strings.Contains(v, "\n") {
			p.block(v, indent)
			return
		}
		p.out.WriteString(" " + scalar(v) + "\n")
	default:
		p.out.WriteString(" " + scalar(v) + "\n")
	}
}

func (p *yamlPrinter) list(list []any, indent string) {
	if line, ok := oneLine(list); ok && len(indent)+len(line) <= lineWidth {
		p.out.WriteString(" " + line + "\n")
		return
	}
	p.out.WriteString("\n")
	for _, v := range list {
		p.out.WriteString(indent + "-")
		if o, ok := v.(obj); ok && len(o) > 0 {
			p.out.WriteString(" ")
			p.object(o, indent+"  ")
			continue
		}
		p.value(v, indent+"  ")
	}
}

// oneLine prints a list of short scalars as YAML's flow form.
func oneLine(list []any) (string, bool) {
	items := make([]string, len(list))
	for i, v := range list {
		switch v := v.(type) {
		case obj, []any:
			return "", false
		case string:
			if strings.Contains(v, "\n") {
				return "", false
			}
			items[i] = scalar(v)
			if strings.Contains(v, ",") {
				items[i] = strconv.Quote(v)
			}
		default:
			items[i] = scalar(v)
		}
	}
	return "[" + strings.Join(items, ", ") + "]", true
}

func (p *yamlPrinter) block(text, indent string) {
	p.out.WriteString(" |-\n")
	for _, line := range strings.Split(text, "\n") {
		p.out.WriteString(strings.TrimRight(indent+line, " ") + "\n")
	}
}

// plain texts need no quotes anywhere; what YAML 1.1 takes for a boolean is
// quoted too, since many readers are of that version.
var plain = regexp.MustCompile(`^[A-Za-z_$/][A-Za-z0-9_ ,;./'()<>=+*$-]*$`)

var reserved = []string{"y", "n", "yes", "no", "on", "off", "true", "false", "null"}

func scalar(v any) string {
	switch v := v.(type) {
	case string:
		if plain.MatchString(v) && !strings.HasSuffix(v, " ") && !slices.Contains(reserved, strings.ToLower(v)) {
			return v
		}
		b, err := jsontext.AppendQuote(nil, v)
		if err != nil {
			panic(fmt.Sprintf("gen: print %q: %v", v, err))
		}
		return string(b)
	case jsontext.Value:
		return string(v)
	case bool:
		return strconv.FormatBool(v)
	case int:
		return strconv.Itoa(v)
	case int64:
		return strconv.FormatInt(v, 10)
	}
	panic(fmt.Sprintf("gen: a %T has no form in YAML", v))
}
