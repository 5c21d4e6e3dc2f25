package redisstore

import (
	"errors"
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"
	"github.com/redis/go-redis/v9/maintnotifications"
)

const (
	dialTimeout = 2 * time.Second
	// answerTimeout bounds each call that has no earlier deadline of its own.
	answerTimeout = 3 * time.Second
	// poolSize lets 32 writers and their readers go ahead at once.
	poolSize = 48
	// maxReplicas is what an append may be made to wait for.
	maxReplicas = 8
)

// target is what a URL says.
type target struct {
	options *redis.UniversalOptions
	name    string // the addresses, fit for messages: no user, no password
	wait    int    // how many replicas must have a write before its answer
}

// parseURL reads what go-redis reads (redis:// with TLS as rediss://, unix://)
// and four parameters more: addr (a further node, may be repeated), cluster=1,
// master_name (the addresses are sentinels) and wait (replicas to wait for).
// Its errors name no part of the URL that could hold a password.
func parseURL(text string) (target, error) {
	bad := func(what string) (target, error) {
		return target{}, fmt.Errorf("redis url: %s: want redis://[user:password@]host:port[/db], see --redis", what)
	}
	u, err := url.Parse(text)
	if err != nil {
		return bad("it cannot be read") // url's own error repeats all of it
	}
	q := u.Query()
	more, master := q["addr"], q.Get("master_name")
	cluster, wait := false, 0
	if v := q.Get("cluster"); v != "" {
		if cluster, err = strconv.ParseBool(v); err != nil {
			return bad(fmt.Sprintf("cluster=%q is neither 1 nor 0", v))
		}
	}
	if v := q.Get("wait"); v != "" {
		if wait, err = strconv.Atoi(v); err != nil || wait < 0 || wait > maxReplicas {
			return bad(fmt.Sprintf("wait=%q is no number of replicas from 0 to %d", v, maxReplicas))
		}
	}
	for _, ours := range []string{"addr", "master_name", "cluster", "wait"} {
		q.Del(ours)
	}
	u.RawQuery = q.Encode()
	o, err := redis.ParseURL(u.String())
	if err != nil {
		return bad(strings.TrimPrefix(withoutURL(err), "redis: "))
	}
	addrs := append([]string{o.Addr}, more...)
	return target{
		name: strings.Join(addrs, ", "),
		wait: wait,
		options: &redis.UniversalOptions{
			Addrs: addrs, MasterName: master, IsClusterMode: cluster,
			Username: o.Username, Password: o.Password, DB: o.DB, TLSConfig: o.TLSConfig,

			// Whoever asked decides what an error means to him, so a call is
			// tried once; a cluster client repeats it all the same.
			MaxRetries:            -1,
			DialerRetries:         1,
			ContextTimeoutEnabled: true,
			DialTimeout:           either(o.DialTimeout, dialTimeout),
			ReadTimeout:           either(o.ReadTimeout, answerTimeout),
			WriteTimeout:          either(o.WriteTimeout, answerTimeout),
			PoolSize:              either(o.PoolSize, poolSize),
			PoolTimeout:           either(o.PoolTimeout, answerTimeout),
			PipelinePoolSize:      -1, // pipelines are rare here

			DisableIdentity:          true,
			MaintNotificationsConfig: &maintnotifications.Config{Mode: maintnotifications.ModeDisabled},
		},
	}, nil
}

func either[T int | time.Duration](given, usual T) T {
	if given != 0 {
		return given
	}
	return usual
}

// withoutURL is an error's text without the address in front that *url.Error
// puts there.
func withoutURL(err error) string {
	var u *url.Error
	if errors.As(err, &u) {
		return u.Err.Error()
	}
	return err.Error()
}
