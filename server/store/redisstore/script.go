package redisstore

import (
	"embed"

	"github.com/redis/go-redis/v9"
)

//go:embed lua/*.lua
var luaFiles embed.FS

// Scripts are sent by their hash; a node that does not know one yet gets the
// text, so they survive a restart, a fail-over and SCRIPT FLUSH.
var (
	scriptAppend   = script("append")
	scriptCreate   = script("create")
	scriptAcquire  = script("acquire")
	scriptSnapshot = script("snapshot")
	scriptLoad     = script("load")
	scriptDelete   = script("delete")
	scriptPutItem  = script("putitem")
)

func script(name string) luaScript {
	text, err := luaFiles.ReadFile("lua/" + name + ".lua")
	if err != nil {
		panic(err) // the file was not there when this program was built
	}
	return luaScript{text: string(text), hash: redis.NewScript(string(text)).Hash()}
}

type luaScript struct{ text, hash string }
