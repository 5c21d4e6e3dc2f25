package browser

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
)

// Violations checks the page as it stands against the accessibility rules of
// axe-core, whose script lies at the given path, and lists what breaks one. An
// empty list means that no rule that a machine can check is broken.
func (p *Page) Violations(axeScript string) []string {
	p.t.Helper()
	script, err := os.ReadFile(axeScript)
	if err != nil {
		p.t.Fatalf("browser: axe-core: %v: run npm --prefix client ci", err)
	}
	Eval[bool](p, string(script)+";\ntrue")
	raw := Eval[string](p, `axe.run(document, {resultTypes: ["violations"]}).then(r => JSON.stringify(r.violations))`)
	var found []struct {
		ID    string `json:"id"`
		Help  string `json:"help"`
		Nodes []struct {
			HTML string `json:"html"`
		} `json:"nodes"`
	}
	if err := json.Unmarshal([]byte(raw), &found); err != nil {
		p.fail("axe-core's answer", err)
	}
	var broken []string
	for _, v := range found {
		var places []string
		for _, n := range v.Nodes {
			places = append(places, n.HTML)
		}
		broken = append(broken, fmt.Sprintf("%s: %s: %s", v.ID, v.Help, strings.Join(places, ", ")))
	}
	return broken
}
