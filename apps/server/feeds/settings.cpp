#include "server/feeds/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "server/http/word_table.hpp"
#include "server/places/settings.hpp"

namespace seatwright::server {

namespace {

using FeedKind = SourceSettings::Kind;
using live::Decides;

constexpr std::array<std::pair<FeedKind, const char*>, 4> feed_kinds{{{FeedKind::agent, "agent"},
                                                                      {FeedKind::adapter, "adapter"},
                                                                      {FeedKind::network, "network"},
                                                                      {FeedKind::line, "line"}}};
constexpr std::array<std::pair<Decides, const char*>, 4> deciders{{{Decides::stillness, "stillness"},
                                                                   {Decides::pedal, "pedal"},
                                                                   {Decides::person, "person"},
                                                                   {Decides::each, "each"}}};

std::optional<double> real_if(const Json& body, const std::string& name) {
    const auto at = body.find(name);
    if (at == body.end() || at->is_null()) return std::nullopt;
    if (!at->is_number() || !std::isfinite(at->get<double>()))
        throw http_error(400, fmt::format("{} is a number", name));
    return at->get<double>();
}

long long between(const Json& body, const std::string& name, long long usual, long long low, long long high) {
    const long long value = number_field_if(body, name).value_or(usual);
    if (value < low || value > high)
        throw http_error(400, fmt::format("{} is from {} to {}", name, low, high));
    return value;
}

// A name or an address of the network, nothing that could be more than one.
bool plain_host(const std::string& host) {
    constexpr std::size_t longest = 253;
    return !host.empty() && host.size() <= longest &&
           std::all_of(host.begin(), host.end(), [](unsigned char c) {
               return std::isalnum(c) != 0 || c == '.' || c == '-' || c == ':';
           });
}

bool plain_name(const std::string& name) {
    return std::all_of(name.begin(), name.end(), [](unsigned char c) {
        return std::isalnum(c) != 0 || c == '.' || c == '-' || c == '_';
    });
}

live::Channel channel_of(const Json& body) {
    static const std::set<std::string> units{"mm", "in", "um", "deg"};
    live::Channel channel;
    channel.what = text_field(body, "what");
    channel.key = text_field_if(body, "key").value_or("");
    channel.part = static_cast<std::size_t>(between(body, "part", 0, 0, 63));
    channel.unit = text_field_if(body, "unit").value_or("mm");
    channel.sign = static_cast<int>(between(body, "sign", 1, -1, 1));
    channel.low = real_if(body, "low");
    channel.high = real_if(body, "high");
    if (channel.what.empty() || channel.what.size() > 30 || !plain_name(channel.what))
        throw http_error(400, "what is the field a figure is for: x, y, depth …");
    if (units.count(channel.unit) == 0) throw http_error(400, "unit is mm, in, um or deg");
    if (channel.sign == 0) throw http_error(400, "sign is 1, or -1 where it counts the other way round");
    if (channel.low && channel.high && *channel.low >= *channel.high)
        throw http_error(400, fmt::format("{}: low is below high", channel.what));
    return channel;
}

}  // namespace

SourceSettings source_of(const Json& body) {
    SourceSettings source;
    source.kind = named(feed_kinds, text_field(body, "kind"), "kind");
    if (source.kind == FeedKind::line) {
        const LinePlace line = line_of(body);
        source.device = line.device;
        source.line = line.line;
    } else {
        constexpr int agent_port = 5000, adapter_port = 7878;  // usual with the open standard
        source.host = text_field(body, "host");
        if (!plain_host(source.host))
            throw http_error(400, "host is a name or an address of the network: mill-1, 192.168.1.20");
        source.port = static_cast<int>(
            between(body, "port", source.kind == FeedKind::agent ? agent_port : adapter_port, 1, 65535));
        source.machine = text_field_if(body, "machine").value_or("");
        if (!plain_name(source.machine))
            throw http_error(
                400, "machine is the name an agent has for one of several: letters, digits, '-', '_', '.'");
    }
    source.ask = text_field_if(body, "ask").value_or("");
    constexpr std::size_t longest_ask = 16;
    const bool printable =
        std::all_of(source.ask.begin(), source.ask.end(), [](char c) { return c >= ' ' && c <= '~'; });
    if (source.ask.size() > longest_ask || !printable)
        throw http_error(400, "ask is what a gauge is asked with, a letter or a few: R");
    if (!source.ask.empty() && source.kind != FeedKind::line && source.kind != FeedKind::network)
        throw http_error(400, "only a gauge is asked: nothing is ever written to a machine");
    return source;
}

FeedSettings feed_of(const Json& body, const std::string& name) {
    constexpr std::size_t longest = 100;
    FeedSettings feed;
    feed.at = text_field_if(body, "at").value_or("");
    if (feed.at.size() > longest)
        throw http_error(400, fmt::format("at is the name of a machine, at most {} letters", longest));
    feed.source = source_of(body);
    auto& watch = feed.watch;
    watch.name = name;
    const auto channels = body.find("channels");
    constexpr std::size_t most = 16;
    if (channels == body.end() || !channels->is_array() || channels->empty() || channels->size() > most)
        throw http_error(400, fmt::format("channels is a list of 1 to {} figures", most));
    std::set<std::string> whats;
    for (const auto& one : *channels) {
        if (!one.is_object()) throw http_error(400, "a channel is an object of keys");
        watch.channels.push_back(channel_of(one));
        if (!whats.insert(watch.channels.back().what).second)
            throw http_error(400, fmt::format("there are two channels for {}", watch.channels.back().what));
    }
    watch.decides = named(deciders, text_field_if(body, "decides").value_or("stillness"), "decides");
    const auto still = real_if(body, "still");
    watch.still.still = still.value_or(watch.still.still);
    // Feeds that were set up before angles had a figure of their own keep the one they had.
    watch.still.still_deg = real_if(body, "still_deg").value_or(still.value_or(watch.still.still_deg));
    if (watch.still.still < 0 || watch.still.still > 10)
        throw http_error(400, "still is how far a length may stray, mm: 0 to 10");
    if (watch.still.still_deg < 0 || watch.still.still_deg > 10)
        throw http_error(400, "still_deg is how far an angle may stray, degrees: 0 to 10");
    watch.still.dwell = between(body, "dwell_ms", watch.still.dwell, 50, 60'000);
    watch.stale = between(body, "stale_ms", watch.stale, 200, 600'000);
    watch.pedal_key = text_field_if(body, "pedal_key").value_or("");
    if (watch.decides == Decides::pedal && watch.pedal_key.empty())
        throw http_error(400, "pedal_key is which of what the source sends is the pedal");
    return feed;
}

Json to_json(const FeedSettings& feed) {
    const auto& [at, source, watch] = feed;
    Json json{{"at", at}, {"kind", word_in(feed_kinds, source.kind)}};
    if (source.kind == FeedKind::line) {
        json.update(line_json({source.device, source.line, {}}));
        json["wait_for_go"] = false;
    } else {
        json["host"] = source.host;
        json["port"] = source.port;
        json["machine"] = source.machine;
    }
    json["ask"] = source.ask;
    Json channels = Json::array();
    const auto or_null = [](const std::optional<double>& v) { return v ? Json(*v) : Json(nullptr); };
    for (const auto& one : watch.channels)
        channels.push_back({{"what", one.what},
                            {"key", one.key},
                            {"part", one.part},
                            {"unit", one.unit},
                            {"sign", one.sign},
                            {"low", or_null(one.low)},
                            {"high", or_null(one.high)}});
    json["channels"] = std::move(channels);
    json["decides"] = word_in(deciders, watch.decides);
    json["still"] = watch.still.still;
    json["still_deg"] = watch.still.still_deg;
    json["dwell_ms"] = watch.still.dwell;
    json["stale_ms"] = watch.stale;
    json["pedal_key"] = watch.pedal_key;
    return json;
}

}  // namespace seatwright::server
