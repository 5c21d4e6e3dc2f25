package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"

	"halfline/internal/rehearse/browser"
)

// oldestNode is the first Node whose test runner has all that the client's
// unit tests use; it is also what the tests are run with in CI.
const oldestNode = 20

// need is a tool that the checks run, and the Debian package that brings it.
type need struct {
	tool    string
	pkg     string
	present func() bool
}

func onPath(tool string) func() bool {
	return func() bool {
		_, err := exec.LookPath(tool)
		return err == nil
	}
}

func needs() []need {
	return []need{
		{"git", "git", onPath("git")},
		{"node", "nodejs", onPath("node")},
		{"npm", "npm", onPath("npm")},
		{"redis-server", "redis-server", onPath("redis-server")},
		{"chromium", browser.Package, func() bool { _, err := browser.Executable(); return err == nil }},
	}
}

// ensureTools installs what is missing where that is possible without asking,
// and otherwise says exactly what to install.
func (s *shop) ensureTools(ctx context.Context) error {
	missing := missingOf(needs())
	if len(missing) > 0 {
		prefix, ok := aptPrefix(ctx)
		if !ok {
			return lacking(missing)
		}
		fmt.Fprintf(s.stdout, "     installing %s\n", strings.Join(packagesOf(missing), " "))
		if err := s.aptInstall(ctx, prefix, packagesOf(missing)); err != nil {
			return err
		}
		if still := missingOf(missing); len(still) > 0 {
			return lacking(still)
		}
	}
	return checkNode(ctx)
}

func missingOf(all []need) []need {
	var missing []need
	for _, n := range all {
		if !n.present() {
			missing = append(missing, n)
		}
	}
	return missing
}

func packagesOf(all []need) []string {
	var pkgs []string
	for _, n := range all {
		pkgs = append(pkgs, n.pkg)
	}
	return pkgs
}

func lacking(missing []need) error {
	var tools []string
	for _, n := range missing {
		tools = append(tools, n.tool)
	}
	return badInput("tools", strings.Join(tools, ", ")+" not found",
		"apt-get install -y --no-install-recommends "+strings.Join(packagesOf(missing), " "))
}

// aptPrefix is what stands before apt-get to run it with the rights it needs;
// false where that cannot be had without a password.
func aptPrefix(ctx context.Context) ([]string, bool) {
	if _, err := exec.LookPath("apt-get"); err != nil {
		return nil, false
	}
	if os.Geteuid() == 0 {
		return []string{"env"}, true
	}
	if exec.CommandContext(ctx, "sudo", "-n", "true").Run() == nil {
		return []string{"sudo", "-n", "env"}, true
	}
	return nil, false
}

func (s *shop) aptInstall(ctx context.Context, prefix, pkgs []string) error {
	// Another installation may hold the lock for a while on a fresh machine.
	base := append(append([]string{}, prefix...), "DEBIAN_FRONTEND=noninteractive",
		"apt-get", "-q", "-y", "-o", "DPkg::Lock::Timeout=120")
	for _, args := range [][]string{
		{"update"},
		append([]string{"install", "--no-install-recommends"}, pkgs...),
	} {
		line := append(append([]string{}, base...), args...)
		out, err := s.command(ctx, s.root, line[0], line[1:]...).CombinedOutput()
		if err != nil {
			fmt.Fprintln(s.stdout, strings.TrimSpace(string(out)))
			return machine("tools", fmt.Errorf("apt-get %s: %w", args[0], err),
				"install by hand: "+strings.Join(pkgs, " "))
		}
	}
	return nil
}

func checkNode(ctx context.Context) error {
	out, err := exec.CommandContext(ctx, "node", "--version").Output()
	if err != nil {
		return machine("tools", fmt.Errorf("node --version: %w", err), "install Node again")
	}
	version := strings.TrimSpace(string(out))
	major, err := strconv.Atoi(strings.SplitN(strings.TrimPrefix(version, "v"), ".", 2)[0])
	if err != nil || major < oldestNode {
		return badInput("tools", fmt.Sprintf("node is %s", version), fmt.Sprintf("install Node %d or newer", oldestNode))
	}
	return nil
}
