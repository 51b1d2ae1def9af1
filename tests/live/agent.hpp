// An agent of the tests' own: it remembers the last so many observations, and makes the documents a real one
// would (MTConnect 2.0; xmllint holds them against the standard's schemas in documents_test.cpp). The machine
// is invented: a mill with X and Y, the position of its path, an execution state and a switch.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <deque>
#include <map>
#include <string>
#include <vector>

namespace seatwright::live {

class Agent {
  public:
    struct Item {
        std::string id, element, attributes, group;
    };
    static const std::vector<Item>& items() {
        static const std::vector<Item> all{
            {"xpos", "Position", " subType=\"ACTUAL\" name=\"Xact\"", "Samples"},
            {"ypos", "Position", " subType=\"ACTUAL\" name=\"Yact\"", "Samples"},
            {"pp", "PathPosition", " subType=\"ACTUAL\"", "Samples"},
            {"ex", "Execution", "", "Events"},
            {"sw", "ControllerMode", "", "Events"}};
        return all;
    }

    explicit Agent(std::uint64_t instance = 1000, std::size_t remembers = 100)
        : instance_(instance), remembers_(remembers) {
        for (const auto& item : items()) say(item.id, "UNAVAILABLE");
    }

    void say(const std::string& id, const std::string& value,
             const std::string& at = "2026-11-27T22:49:59.500Z") {
        seen_.push_back({id, value, at, next_++});
        last_[id] = seen_.back();
        if (seen_.size() > remembers_) seen_.pop_front();
    }
    std::uint64_t next() const { return next_; }
    std::uint64_t first() const { return next_ - seen_.size(); }
    std::uint64_t instance() const { return instance_; }

    std::string devices() const {
        return fmt::format(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<MTConnectDevices xmlns=\"urn:mtconnect.org:MTConnectDevices:2.0\">"
            "<Header creationTime=\"2026-11-27T22:50:00Z\" sender=\"test\" instanceId=\"{}\" "
            "version=\"2.0.0.1\" "
            "deviceModelChangeTime=\"2026-11-27T20:00:00Z\" bufferSize=\"{}\" assetBufferSize=\"1\" "
            "assetCount=\"0\"/>"
            "<Devices><Device id=\"d1\" name=\"mill\" uuid=\"m1\"><Components><Axes id=\"a1\"><Components>"
            "<Linear id=\"x1\" name=\"X\"><DataItems><DataItem id=\"xpos\" name=\"Xact\" category=\"SAMPLE\" "
            "type=\"POSITION\" subType=\"ACTUAL\" units=\"MILLIMETER\"/></DataItems></Linear>"
            "<Linear id=\"y1\" name=\"Y\"><DataItems><DataItem id=\"ypos\" name=\"Yact\" category=\"SAMPLE\" "
            "type=\"POSITION\" subType=\"ACTUAL\" units=\"MILLIMETER\"/></DataItems></Linear>"
            "</Components></Axes><Controller id=\"c1\"><DataItems><DataItem id=\"sw\" category=\"EVENT\" "
            "type=\"CONTROLLER_MODE\"/></DataItems><Components><Path id=\"p1\" name=\"path\"><DataItems>"
            "<DataItem id=\"pp\" category=\"SAMPLE\" type=\"PATH_POSITION\" subType=\"ACTUAL\" "
            "units=\"MILLIMETER_3D\"/><DataItem id=\"ex\" category=\"EVENT\" "
            "type=\"EXECUTION\"/></DataItems></Path>"
            "</Components></Controller></Components></Device></Devices></MTConnectDevices>",
            instance_, remembers_);
    }

    // What stands of each item, whether or not it is remembered as one of the last.
    std::string current() const {
        std::vector<Seen> last;
        for (const auto& item : items()) last.push_back(last_.at(item.id));
        return streams(last, next_);
    }
    // From a sequence on, at most `count`; an error document where that is not remembered any more.
    std::string sample(std::uint64_t from, std::size_t count) const {
        if (from < first() || from > next_) return error("OUT_OF_RANGE", "'from' must be within the buffer");
        std::vector<Seen> some;
        for (const auto& one : seen_)
            if (one.sequence >= from && some.size() < count) some.push_back(one);
        return streams(some, from + some.size());
    }
    std::string error(const std::string& code, const std::string& words) const {
        return fmt::format(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<MTConnectError "
            "xmlns=\"urn:mtconnect.org:MTConnectError:2.0\">"
            "<Header creationTime=\"2026-11-27T22:50:00Z\" sender=\"test\" instanceId=\"{}\" "
            "version=\"2.0.0.1\" "
            "bufferSize=\"{}\"/>"
            "<Errors><Error errorCode=\"{}\">{}</Error></Errors></MTConnectError>",
            instance_, remembers_, code, words);
    }

  private:
    struct Seen {
        std::string id, value, at;
        std::uint64_t sequence = 0;
    };

    std::string group(const std::vector<Seen>& some, const std::string& component, const std::string& id,
                      const std::vector<std::string>& of) const {
        std::string samples, events;
        for (const auto& one : some)
            for (const auto& item : items()) {
                bool here = item.id == one.id;
                if (here) here = std::find(of.begin(), of.end(), one.id) != of.end();
                if (!here) continue;
                (item.group == "Samples" ? samples : events) += fmt::format(
                    "<{} dataItemId=\"{}\" timestamp=\"{}\" sequence=\"{}\"{}>{}</{}>", item.element, item.id,
                    one.at, one.sequence, item.attributes, one.value, item.element);
            }
        if (samples.empty() && events.empty()) return {};
        return fmt::format("<ComponentStream component=\"{}\" componentId=\"{}\">{}{}</ComponentStream>",
                           component, id, samples.empty() ? "" : "<Samples>" + samples + "</Samples>",
                           events.empty() ? "" : "<Events>" + events + "</Events>");
    }

    std::string streams(const std::vector<Seen>& some, std::uint64_t next) const {
        const std::string inner =
            group(some, "Linear", "x1", {"xpos"}) + group(some, "Linear", "y1", {"ypos"}) +
            group(some, "Path", "p1", {"pp", "ex"}) + group(some, "Controller", "c1", {"sw"});
        return fmt::format(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<MTConnectStreams xmlns=\"urn:mtconnect.org:MTConnectStreams:2.0\">"
            "<Header creationTime=\"2026-11-27T22:50:00Z\" sender=\"test\" instanceId=\"{}\" "
            "version=\"2.0.0.1\" "
            "deviceModelChangeTime=\"2026-11-27T20:00:00Z\" bufferSize=\"{}\" nextSequence=\"{}\" "
            "firstSequence=\"{}\" lastSequence=\"{}\"/>"
            "<Streams><DeviceStream name=\"mill\" uuid=\"m1\">{}</DeviceStream></Streams></MTConnectStreams>",
            instance_, remembers_, next, first(), next_ - 1, inner);
    }

    std::uint64_t instance_, next_ = 1;
    std::size_t remembers_;
    std::deque<Seen> seen_;
    std::map<std::string, Seen> last_;  // of each item
};

}  // namespace seatwright::live
