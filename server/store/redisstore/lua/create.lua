-- Makes an empty session.
-- KEYS: meta, log, snap, items
-- ARGV: epoch, nonce of this call
-- Answers OK, also to the same call once more, or EXISTS.
local nonce = redis.call('HGET', KEYS[1], 'nonce')
if nonce and nonce ~= ARGV[2] then return 'EXISTS' end
if nonce then
  redis.call('HSET', KEYS[1], 'nonce', nonce)
  return 'OK'
end
redis.call('DEL', KEYS[2], KEYS[3], KEYS[4])
redis.call('HSET', KEYS[1], 'epoch', ARGV[1], 'nonce', ARGV[2], 'fence', '0',
  'seq', '0', 'chain', '0000000000000000', 'base', '0')
return 'OK'
