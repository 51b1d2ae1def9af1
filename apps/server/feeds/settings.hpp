// How a feed is set up, as JSON: where its readings come from {"kind": "agent" | "adapter" | "network" |
// "line", "host", "port", "machine" (of an agent with several), "device", "baud", …, "ask"}, and what of it
// is offered when {"channels": [{"what", "key", "part", "unit", "sign", "low", "high"}], "decides", "still",
// "still_deg", "dwell_ms", "pedal_key", "stale_ms"}; low and high in mm, or deg. "at": the machine of the
// Shelf it is of; empty for a gauge that goes round. What a figure is for ("what"): a field by its name (x,
// depth), or "any": the one somebody stands in.
#pragma once

#include <string>

#include "seatwright/live/watch.hpp"
#include "seatwright/place/line.hpp"
#include "server/http/call.hpp"

namespace seatwright::server {

struct SourceSettings {
    enum class Kind {
        agent,    // documents over http
        adapter,  // lines of key and value over the network
        network,  // lines of a gauge over the network
        line      // lines of a gauge over a serial line
    } kind = Kind::agent;
    std::string host, machine;
    int port = 0;
    std::string device;
    place::LineSettings line;
    std::string ask;  // sent to a gauge that waits to be asked, with CR behind it; empty: it sends by itself
};

struct FeedSettings {
    std::string at;
    SourceSettings source;
    live::WatchSettings watch;
};

// Throw HttpError 400 with what would be right.
SourceSettings source_of(const Json& body);
FeedSettings feed_of(const Json& body, const std::string& name);
// The same as it is stored: everything said.
Json to_json(const FeedSettings& feed);

}  // namespace seatwright::server
