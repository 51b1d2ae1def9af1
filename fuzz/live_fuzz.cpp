// Any bytes as what a source of readings sends: the first says as what. Documents of an agent, in parts or
// whole, lines of an adapter, lines of a gauge: numbers that come out are finite, refusals say something,
// nothing crashes, and a watch set up on whatever comes first offers only what it was given.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/live/follow.hpp"
#include "seatwright/live/gauge_line.hpp"
#include "seatwright/live/lines.hpp"
#include "seatwright/live/parts.hpp"
#include "seatwright/live/shdr.hpp"
#include "seatwright/live/watch.hpp"

namespace {

using namespace seatwright;
using live::Observation;

void check(const Observation& seen) {
    for (const double number : seen.numbers) require(std::isfinite(number), "a number is finite");
    require(!seen.unavailable || seen.numbers.empty(), "what is unavailable has no number");
    require(seen.raw.size() <= live::longest_raw, "the raw text is bounded");
}

void watched(const std::vector<Observation>& all) {
    if (all.empty()) return;
    live::WatchSettings settings;
    settings.name = "fuzz";
    settings.channels = {{"x", all.front().key, 0, "mm", 1, -1000.0, 1000.0}};
    settings.still = {0.01, 2};
    live::Watch watch(settings);
    live::Ms now = 0;
    for (const auto& seen : all) {
        check(seen);
        watch.see(seen, ++now);
        if (const auto offered = watch.rest(now))
            for (const auto& one : offered->readings)
                require(std::abs(one.value) <= 1000, "what is offered can be reached");
        if (const auto taken = watch.take(now); !taken) require(!taken.error().empty(), "a refusal says why");
    }
}

std::vector<Observation> of_an_agent(std::string_view text) {
    live::Follow follow;
    std::vector<Observation> all;
    live::Parts parts("edge");
    for (const auto& part : parts.add(text)) {
        auto followed = follow.take(part);
        require(followed.ask_again || follow.streams(), "it knows what to ask next");
        for (auto& one : followed.observations) all.push_back(std::move(one));
    }
    auto whole = follow.take(text);
    for (const auto& note : whole.notes) require(!note.empty(), "a note says something");
    for (auto& one : whole.observations) all.push_back(std::move(one));
    if (const auto document = live::read_agent(text))
        for (const auto& one : document->streams.observations) all.push_back(one);
    return all;
}

std::vector<Observation> of_lines(std::string_view text, bool adapter) {
    live::Lines lines;
    live::Shdr shdr;
    std::vector<Observation> all;
    for (const auto& line : lines.add(text)) {
        if (adapter) {
            for (auto& one : shdr.read(line).observations) all.push_back(std::move(one));
        } else if (auto seen = live::read_gauge_line(line)) {
            require(seen->numbers.size() == 1, "a gauge's line has one number");
            all.push_back(std::move(*seen));
        } else {
            require(!seen.error().empty(), "a refusal says why");
        }
    }
    return all;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
    switch (data[0] % 3) {
        case 0:
            watched(of_an_agent(text));
            break;
        case 1:
            watched(of_lines(text, true));
            break;
        default:
            watched(of_lines(text, false));
            break;
    }
    return 0;
}
