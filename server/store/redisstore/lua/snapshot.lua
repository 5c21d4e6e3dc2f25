-- Stores a snapshot, keeps the two newest, and cuts the log after the older.
-- KEYS: log, meta, snap
-- ARGV: fence, seq, chain, snapshot
-- Answers OK, STALE or NOTFOUND.
local meta = redis.call('HMGET', KEYS[2], 'fence', 'seq', 'chain', 'base')
if not meta[1] then return 'NOTFOUND' end
if meta[1] ~= ARGV[1] then return 'STALE' end
local seq, last, base = tonumber(ARGV[2]), tonumber(meta[2]), tonumber(meta[4])
if seq < base or seq > last then return 'STALE' end

local function hex(bytes)
  return (string.gsub(bytes, '.', function(c) return string.format('%02x', string.byte(c)) end))
end

-- The chain of that record, from where it is still to be had. A record holds
-- its chain in bytes 38 to 45, a snapshot in 14 to 21, counted from 1.
local chain
if seq == last then
  chain = meta[3]
elseif seq == 0 then
  chain = '0000000000000000'
elseif seq == base then
  chain = hex(string.sub(redis.call('HGET', KEYS[3], ARGV[2]) or '', 14, 21))
else
  local entry = redis.call('XRANGE', KEYS[1], '0-' .. ARGV[2], '0-' .. ARGV[2])[1]
  chain = entry and hex(string.sub(entry[2][2], 38, 45))
end
if chain ~= ARGV[3] then return 'STALE' end

redis.call('HSET', KEYS[3], ARGV[2], ARGV[4])
local kept = redis.call('HKEYS', KEYS[3])
table.sort(kept, function(a, b) return tonumber(a) > tonumber(b) end)
for i = 3, #kept do redis.call('HDEL', KEYS[3], kept[i]) end
if #kept >= 2 then
  redis.call('XTRIM', KEYS[1], 'MINID', '=', string.format('0-%.0f', tonumber(kept[2]) + 1))
  redis.call('HSET', KEYS[2], 'base', kept[2])
end
return 'OK'
