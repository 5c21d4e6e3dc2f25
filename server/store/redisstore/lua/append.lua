-- Adds records to a log, all or none.
-- KEYS: log, meta
-- ARGV: fence; seq and chain that the log must end with; seq and chain of the
--       last new record; then the records
-- Answers OK, STALE, NOTFOUND, or HEAD if the chain at the end is another.
local meta = redis.call('HMGET', KEYS[2], 'fence', 'seq', 'chain')
if not meta[1] then return 'NOTFOUND' end
if meta[1] ~= ARGV[1] then return 'STALE' end

if meta[2] == ARGV[2] then
  if meta[3] ~= ARGV[3] then return 'HEAD' end
  local seq = tonumber(ARGV[2])
  for i = 6, #ARGV do
    seq = seq + 1
    redis.call('XADD', KEYS[1], string.format('0-%.0f', seq), 'r', ARGV[i])
  end
  redis.call('HSET', KEYS[2], 'seq', ARGV[4], 'chain', ARGV[5])
  return 'OK'
end

-- Not the next records. Perhaps the very same as are there: then the answer to
-- them was lost.
if tonumber(ARGV[4]) > tonumber(meta[2]) then return 'STALE' end
local there = redis.call('XRANGE', KEYS[1], string.format('0-%.0f', tonumber(ARGV[2]) + 1), '0-' .. ARGV[4])
if #there ~= #ARGV - 5 then return 'STALE' end
for i, entry in ipairs(there) do
  if entry[2][2] ~= ARGV[i + 5] then return 'STALE' end
end
-- A write that changes nothing, so that a WAIT after it waits for this state.
redis.call('HSET', KEYS[2], 'seq', meta[2])
return 'OK'
