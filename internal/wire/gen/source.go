package gen

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
)

// source is what only the Go text tells: comments and constants.
type source struct {
	docs   map[string]string  // "wire.Hello", "wire.Hello.Token"
	consts map[string][]named // package -> constants in the order of the text
}

// named is one constant.
type named struct {
	Name, Value, Doc string // Value as Go reads it: without quotes
	Text             bool   // Value is a string
}

// readSource reads the packages whose types travel.
func readSource(root string) (*source, error) {
	s := &source{docs: map[string]string{}, consts: map[string][]named{}}
	for _, pkg := range []string{"session", "wire"} {
		dir := filepath.Join(root, "internal", pkg)
		fset := token.NewFileSet()
		files, err := filepath.Glob(filepath.Join(dir, "*.go")) // in name order
		if err != nil || len(files) == 0 {
			return nil, fmt.Errorf("read %s: no Go files there", dir)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
			if err != nil {
				return nil, fmt.Errorf("read %s: %w", name, err)
			}
			for _, d := range f.Decls {
				if g, ok := d.(*ast.GenDecl); ok {
					s.decl(pkg, g)
				}
			}
		}
	}
	return s, nil
}

func (s *source) decl(pkg string, g *ast.GenDecl) {
	for _, spec := range g.Specs {
		switch spec := spec.(type) {
		case *ast.TypeSpec:
			doc := spec.Doc
			if doc == nil {
				doc = g.Doc
			}
			s.docs[pkg+"."+spec.Name.Name] = text(doc)
			if st, ok := spec.Type.(*ast.StructType); ok {
				for _, f := range st.Fields.List {
					for _, n := range f.Names {
						s.docs[pkg+"."+spec.Name.Name+"."+n.Name] = join(text(f.Doc), text(f.Comment))
					}
				}
			}
		case *ast.ValueSpec:
			if g.Tok != token.CONST || len(spec.Names) != 1 || len(spec.Values) != 1 {
				continue
			}
			lit, ok := spec.Values[0].(*ast.BasicLit)
			if !ok {
				continue
			}
			c := named{Name: spec.Names[0].Name, Value: lit.Value, Doc: join(text(spec.Doc), text(spec.Comment))}
			if lit.Kind == token.STRING {
				c.Text = true
				c.Value, _ = strconv.Unquote(lit.Value) // the parser accepted it
			}
			s.consts[pkg] = append(s.consts[pkg], c)
		}
	}
}

// codes lists the constants of a package whose names have a prefix.
func (s *source) codes(pkg, prefix string) []named {
	var out []named
	for _, c := range s.consts[pkg] {
		if strings.HasPrefix(c.Name, prefix) {
			out = append(out, c)
		}
	}
	return out
}

// value finds one constant's value.
func (s *source) value(pkg, name string) string {
	for _, c := range s.consts[pkg] {
		if c.Name == name {
			return c.Value
		}
	}
	panic(fmt.Sprintf("gen: package %s has no constant %s", pkg, name))
}

func text(g *ast.CommentGroup) string { return strings.TrimSpace(g.Text()) }

func join(a, b string) string { return strings.TrimSpace(a + "\n" + b) }
