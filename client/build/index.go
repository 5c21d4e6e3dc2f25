package build

import (
	"bytes"
	"fmt"
	"regexp"
)

// The page's content security policy forbids inline code, so a page that
// carries some would work in no browser.
var (
	inlineScript  = regexp.MustCompile(`(?i)<script(?:\s[^>]*)?>[^<]`)
	inlineStyle   = regexp.MustCompile(`(?i)<style[\s>]|\sstyle\s*=`)
	inlineHandler = regexp.MustCompile(`(?i)<[^>]*\son[a-z]+\s*=`)
)

// index replaces the page's references to its sources by the built names.
// They become absolute, because the same page answers several addresses.
func index(page []byte, scriptName, styleName string) ([]byte, error) {
	for _, rule := range []struct {
		pattern *regexp.Regexp
		what    string
	}{
		{inlineScript, "an inline script"},
		{inlineStyle, "an inline style"},
		{inlineHandler, "an inline event handler"},
	} {
		if found := rule.pattern.FindIndex(page); found != nil {
			line := 1 + bytes.Count(page[:found[0]], []byte("\n"))
			return nil, fmt.Errorf("client/src/index.html:%d: holds %s: move it to src/main.tsx or src/app.css", line, rule.what)
		}
	}
	for source, built := range map[string]string{`"./main.tsx"`: scriptName, `"./app.css"`: styleName} {
		if n := bytes.Count(page, []byte(source)); n != 1 {
			return nil, fmt.Errorf("client/src/index.html: refers to %s %d times: it needs exactly one reference", source, n)
		}
		page = bytes.Replace(page, []byte(source), []byte(`"/`+built+`"`), 1)
	}
	return page, nil
}
