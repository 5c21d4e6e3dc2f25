-- Reads a session's head and one of its snapshots, as of one moment.
-- KEYS: meta, snap
-- ARGV: which snapshot, 1 the newest, 2 the one before it
-- Answers epoch, seq, chain, base and the snapshot, empty if there is none; or
-- nothing if there is no session.
local meta = redis.call('HMGET', KEYS[1], 'epoch', 'seq', 'chain', 'base')
if not meta[1] then return false end
local kept = redis.call('HKEYS', KEYS[2])
table.sort(kept, function(a, b) return tonumber(a) > tonumber(b) end)
local which = kept[tonumber(ARGV[1])]
meta[5] = which and redis.call('HGET', KEYS[2], which) or ''
return meta
