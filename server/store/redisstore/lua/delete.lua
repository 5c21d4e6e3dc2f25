-- Removes a session with all that belongs to it.
-- KEYS: meta, log, snap, items
redis.call('DEL', KEYS[1], KEYS[2], KEYS[3], KEYS[4])
return 'OK'
