#include "seatwright/live/follow.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

std::string Follow::path(std::string_view rest) const {
    return settings_.device.empty() ? fmt::format("/{}", rest)
                                    : fmt::format("/{}/{}", settings_.device, rest);
}

std::string Follow::next() const {
    switch (state_) {
        case State::probe:
            return path("probe");
        case State::current:
            return path("current");
        case State::sample:
            break;
    }
    return path(fmt::format("sample?from={}&count={}&interval={}&heartbeat={}", next_, settings_.count,
                            settings_.interval_ms, settings_.heartbeat_ms));
}

Followed Follow::restarted() {
    Followed done;
    if (instance_) done.notes.push_back(sentence<"agent-anew">());
    instance_.reset();
    state_ = State::probe;
    done.ask_again = true;
    return done;
}

Followed Follow::take(Streams&& streams) {
    const auto& header = streams.header;
    if (state_ == State::probe || header.instance != instance_) return restarted();
    Followed done;
    if (header.next == 0) {
        done.notes.push_back(sentence<"no-sequence">());
        state_ = State::current;
        done.ask_again = true;
        return done;
    }
    if (state_ == State::current) {
        next_ = header.next;
        state_ = State::sample;
        done.ask_again = true;
        done.observations = std::move(streams.observations);
        for (auto& one : done.observations) one.standing = true;
        return done;
    }
    if (header.first > next_) done.notes.push_back(sentence<"fell-out">("count"_is = header.first - next_));
    if (header.next < next_) {
        done.notes.push_back(sentence<"counts-backwards">());
        state_ = State::current;
        done.ask_again = true;
        return done;
    }
    // Some of them were in the part before.
    std::copy_if(std::make_move_iterator(streams.observations.begin()),
                 std::make_move_iterator(streams.observations.end()), std::back_inserter(done.observations),
                 [&](const auto& one) { return !one.sequence || *one.sequence >= next_; });
    next_ = header.next;
    return done;
}

Followed Follow::take(std::string_view xml) {
    Followed done;
    auto document = read_agent(xml);
    if (!document) {
        done.notes.push_back(document.error());
        done.ask_again = true;
        return done;
    }
    switch (document->kind) {
        case AgentDocument::Kind::devices:
            instance_ = document->devices.header.instance;
            state_ = State::current;
            done.devices = std::move(document->devices);
            done.ask_again = true;
            return done;
        case AgentDocument::Kind::streams:
            return take(std::move(document->streams));
        case AgentDocument::Kind::error:
            break;
    }
    done.notes.push_back(
        document->error.code == "OUT_OF_RANGE"
            ? sentence<"gap">()
            : sentence<"agent-says">("code"_is = document->error.code, "text"_is = document->error.text));
    if (state_ == State::sample) state_ = State::current;
    done.ask_again = true;
    return done;
}

}  // namespace seatwright::live
