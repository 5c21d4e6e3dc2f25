package redisstore

import (
	"context"
	"fmt"
	"time"

	"github.com/redis/go-redis/v9"
)

// Compact makes every master write its files anew, those that it keeps. It is
// what makes deleted names unreadable: an append-only file holds them until it
// is rewritten. It returns when the files are written.
func (s *Store) Compact(ctx context.Context) error {
	var err error
	switch c := s.client.(type) {
	case *redis.ClusterClient:
		err = c.ForEachMaster(ctx, rewrite)
	case *redis.Client:
		err = rewrite(ctx, c)
	}
	if err != nil {
		return fmt.Errorf("compact redis at %s: %w", s.name, err)
	}
	return nil
}

// rewriteBeat is how often the server is asked whether it is done.
const rewriteBeat = 20 * time.Millisecond

func rewrite(ctx context.Context, node *redis.Client) error {
	persistence := func() (map[string]string, error) {
		text, err := node.Info(ctx, "persistence").Result()
		return infoFields(text), err
	}
	info, err := persistence()
	if err != nil {
		return err
	}
	if info["aof_enabled"] == "1" {
		if err := node.BgRewriteAOF(ctx).Err(); err != nil {
			return err
		}
		info, err = until(ctx, persistence, "aof_rewrite_in_progress", "aof_rewrite_scheduled")
		if err != nil {
			return err
		}
		if got := info["aof_last_bgrewrite_status"]; got != "ok" {
			return fmt.Errorf("rewrite of the append-only file ended with %q, its log says why", got)
		}
	}
	if save := node.ConfigGet(ctx, "save").Val()["save"]; save == "" {
		return nil // keeps no snapshot file
	}
	if err := node.BgSave(ctx).Err(); err != nil {
		return err
	}
	info, err = until(ctx, persistence, "rdb_bgsave_in_progress")
	if err != nil {
		return err
	}
	if got := info["rdb_last_bgsave_status"]; got != "ok" {
		return fmt.Errorf("snapshot file ended with %q, its log says why", got)
	}
	return nil
}

// until waits for all of the named fields to be 0.
func until(ctx context.Context, ask func() (map[string]string, error), fields ...string) (map[string]string, error) {
	beat := time.NewTicker(rewriteBeat)
	defer beat.Stop()
	for {
		info, err := ask()
		if err != nil {
			return nil, err
		}
		busy := false
		for _, f := range fields {
			busy = busy || info[f] != "0"
		}
		if !busy {
			return info, nil
		}
		select {
		case <-beat.C:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}
