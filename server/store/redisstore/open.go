package redisstore

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"sync"
	"time"

	"github.com/redis/go-redis/v9"
)

// openTimeout bounds all of Open: whoever starts a server waits for it.
const openTimeout = 5 * time.Second

// Open connects to a Redis and reads its settings. It refuses one that drops
// keys by itself; the warnings, one line each, name settings under which an
// answer says less than the contract wants. The error is one line that says
// what to do.
func Open(ctx context.Context, url string) (*Store, []string, error) {
	t, err := parseURL(url)
	if err != nil {
		return nil, nil, err
	}
	return open(ctx, t)
}

func open(ctx context.Context, t target) (*Store, []string, error) {
	quiet.Do(func() { redis.SetLogger(logger{}) })
	s := &Store{
		name:   t.name,
		wait:   t.wait,
		client: redis.NewUniversalClient(t.options),
		heads:  heads{of: map[string]head{}},
	}
	_, s.single = s.client.(*redis.Client)
	ctx, cancel := context.WithTimeout(ctx, openTimeout)
	defer cancel()
	warnings, err := s.settings(ctx)
	if err != nil {
		_ = s.client.Close()
		return nil, nil, err
	}
	return s, warnings, nil
}

// settings reads those of every master.
func (s *Store) settings(ctx context.Context) ([]string, error) {
	var mu sync.Mutex
	var warnings []string
	each := func(ctx context.Context, node *redis.Client) error {
		w, err := s.nodeSettings(ctx, node)
		mu.Lock()
		defer mu.Unlock()
		warnings = append(warnings, w...)
		return err
	}
	var err error
	switch c := s.client.(type) {
	case *redis.ClusterClient:
		err = s.unreachable(c.ForEachMaster(ctx, each))
	case *redis.Client:
		err = each(ctx, c)
	}
	return warnings, err
}

func (s *Store) nodeSettings(ctx context.Context, node *redis.Client) (warnings []string, err error) {
	if err := node.Ping(ctx).Err(); err != nil && !isRefusal(err) {
		return nil, s.unreachable(err)
	}
	name := s.name
	if !s.single {
		name = node.Options().Addr
	}
	set := map[string]string{}
	for _, key := range []string{"maxmemory-policy", "appendonly", "appendfsync"} {
		// One at a time: more in one call need Redis 7.
		got, err := node.ConfigGet(ctx, key).Result()
		var refused redis.Error
		if err != nil && !errors.As(err, &refused) {
			return nil, s.unreachable(err)
		}
		set[key] = got[key]
	}
	if set["maxmemory-policy"] == "" {
		// Where CONFIG is not allowed, INFO often is, and tells two of three.
		info := infoFields(node.Info(ctx, "memory", "persistence").Val())
		set["maxmemory-policy"] = info["maxmemory_policy"]
		if info["aof_enabled"] == "0" {
			set["appendonly"] = "no"
		}
		warnings = append(warnings, fmt.Sprintf("redis at %s does not let its settings be read: make sure of maxmemory-policy noeviction, appendonly yes, appendfsync always", name))
	}
	if p := set["maxmemory-policy"]; p != "" && p != "noeviction" {
		return nil, fmt.Errorf("redis at %s drops keys by itself when memory runs short (maxmemory-policy %s): set maxmemory-policy noeviction", name, p)
	}
	if set["appendonly"] == "no" {
		warnings = append(warnings, fmt.Sprintf("redis at %s keeps its data in memory only (appendonly no), a restart loses all of it: set appendonly yes and appendfsync always", name))
	} else if f := set["appendfsync"]; f != "" && f != "always" {
		warnings = append(warnings, fmt.Sprintf("redis at %s answers before its data is on the disk (appendfsync %s), a crash of its machine loses the last of it: set appendfsync always", name, f))
	}
	return warnings, nil
}

// unreachable says what to do when there is no working Redis at all.
func (s *Store) unreachable(err error) error {
	var answer redis.Error
	switch {
	case err == nil:
		return nil
	case strings.HasPrefix(err.Error(), "redis at "): // of nodeSettings, through ForEachMaster
		return err
	case errors.As(err, &answer) && (strings.HasPrefix(err.Error(), "NOAUTH") || strings.HasPrefix(err.Error(), "WRONGPASS") || strings.HasPrefix(err.Error(), "NOPERM")):
		return fmt.Errorf("redis at %s refuses the login: correct user and password in --redis", s.name)
	case errors.As(err, &answer):
		return fmt.Errorf("redis at %s: %v: see to it, or correct --redis", s.name, err)
	}
	return fmt.Errorf("redis at %s cannot be reached (%v): start it, or correct --redis", s.name, err)
}

// infoFields reads the name:value lines of INFO.
func infoFields(text string) map[string]string {
	fields := map[string]string{}
	for line := range strings.Lines(text) {
		if name, value, ok := strings.Cut(strings.TrimSpace(line), ":"); ok {
			fields[name] = value
		}
	}
	return fields
}

// go-redis would print to standard error by itself.
var quiet sync.Once

type logger struct{}

func (logger) Printf(ctx context.Context, format string, v ...any) {
	slog.DebugContext(ctx, "redis client", "says", fmt.Sprintf(format, v...))
}
