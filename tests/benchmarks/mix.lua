-- Requests of a file in turn (method, address, tag of a copy at hand, body; tabs between), from a place of its own for
-- each thread; at the end one line that load.py reads.
local started = 0

function setup(thread)
  thread:set("place", started * 7919)
  started = started + 1
end

function init(arguments)
  asked = {}
  for line in io.lines(arguments[1]) do
    local method, address, tag, body = line:match("^(%S+)\t(%S+)\t(%S*)\t(.*)$")
    local headers = {}
    if tag ~= "" then headers["If-None-Match"] = tag end
    if body ~= "" then headers["Content-Type"] = "application/json" end
    asked[#asked + 1] = wrk.format(method, address, headers, body ~= "" and body or nil)
  end
end

function request()
  place = place % #asked + 1
  return asked[place]
end

function done(summary, latency)
  local errors = 0
  for _, number in pairs(summary.errors) do errors = errors + number end
  io.write(string.format("MEASURED %d %d %d %d %d %d\n", summary.requests, summary.duration, latency:percentile(50),
    latency:percentile(95), latency:percentile(99), errors))
end
