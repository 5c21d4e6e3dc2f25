-- Puts a value into a side table.
-- KEYS: items, and meta if the table belongs to a session
-- ARGV: key, value
-- Answers OK or NOTFOUND.
if KEYS[2] and redis.call('EXISTS', KEYS[2]) == 0 then return 'NOTFOUND' end
redis.call('HSET', KEYS[1], ARGV[1], ARGV[2])
return 'OK'
