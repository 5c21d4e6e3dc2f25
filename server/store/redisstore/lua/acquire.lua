-- Gives the session a new writer.
-- KEYS: meta
-- ARGV: how much the fence grows
-- Answers fence, seq and chain, or nothing if there is no session.
if redis.call('EXISTS', KEYS[1]) == 0 then return false end
redis.call('HINCRBY', KEYS[1], 'fence', ARGV[1])
return redis.call('HMGET', KEYS[1], 'fence', 'seq', 'chain')
