#include "seatwright/job/repeated.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <span>
#include <utility>

#include "seatwright/job/of_head.hpp"
#include "seatwright/job/ranges.hpp"
#include "seatwright/words/english_job.hpp"

namespace seatwright::job {
namespace {

// Two that a person would write alike: 0.5 in and 12.7 mm.
constexpr double as_written = 1e-9;

template <class Reading>
struct Quantity {
    const char* name;
    Dimension dimension;
    std::optional<double> (*of)(const Reading&);
};

constexpr auto of_guide = std::to_array<Quantity<GuideBore>>({
    {"top", Dimension::length, [](const GuideBore& r) -> std::optional<double> { return r.top; }},
    {"middle", Dimension::length, [](const GuideBore& r) -> std::optional<double> { return r.middle; }},
    {"bottom", Dimension::length, [](const GuideBore& r) -> std::optional<double> { return r.bottom; }},
});

// The dearest first: a height places the seat.
constexpr auto of_seat = std::to_array<Quantity<SeatBefore>>({
    {"recession", Dimension::length, [](const SeatBefore& r) { return r.recession; }},
    {"below_deck", Dimension::length, [](const SeatBefore& r) { return r.below_deck; }},
    {"stem_height", Dimension::length, [](const SeatBefore& r) { return r.stem_height; }},
    {"rest_z", Dimension::length, [](const SeatBefore& r) { return r.rest_z; }},
    {"face_outside", Dimension::length, [](const SeatBefore& r) { return r.face_outside; }},
    {"face_width", Dimension::length, [](const SeatBefore& r) { return r.face_width; }},
    {"cleanup", Dimension::length, [](const SeatBefore& r) { return r.cleanup; }},
    {"chamber", Dimension::volume, [](const SeatBefore& r) { return r.chamber; }},
});

bool same(double a, double b) {
    return std::abs(a - b) <= as_written * std::max(std::abs(a), std::abs(b));
}

// The last reading that gives the quantity, and the last before it that gives another figure of it.
template <class Reading>
std::pair<const Reading*, const Reading*> contradiction(const std::vector<const Reading*>& readings,
                                                        const Quantity<Reading>& quantity) {
    const Reading* last = nullptr;
    for (auto read = readings.rbegin(); read != readings.rend(); ++read) {
        const auto value = quantity.of(**read);
        if (!value) continue;
        if (last == nullptr)
            last = *read;
        else if (!same(*value, *quantity.of(*last)))
            return {last, *read};
    }
    return {last, nullptr};
}

template <class Reading>
std::vector<Doubt> repeated(const GrowingList<Reading>& all, const std::string& head,
                            std::span<const Quantity<Reading>> quantities, std::string_view table,
                            Stage stage) {
    std::map<std::string, std::vector<const Reading*>> by_valve;
    for (const Reading& reading : of_head(all, head)) by_valve[reading.valve].push_back(&reading);
    std::vector<Doubt> out;
    for (const auto& [valve, readings] : by_valve) {
        for (const auto& quantity : quantities) {
            const auto [last, other] = contradiction(readings, quantity);
            if (other == nullptr || last->sure) continue;
            const std::string key = fmt::format("{}.{}.{}.{}", table, head, valve, quantity.name);
            const auto words = [&](const Reading& r) {
                return as_typed(*quantity.of(r), quantity.dimension);
            };
            out.push_back({stage, Cost::reading, key, words(*last),
                           sentence<"read-twice">("key"_is = seatwright::Key{key}, "first"_is = words(*other),
                                                  "last"_is = words(*last)),
                           valve, head, true});
            break;
        }
    }
    return out;
}

}  // namespace

std::vector<Doubt> repeated_guides(const Job& job, const std::string& head) {
    return repeated<GuideBore>(job.readings.guides, head, of_guide, "reading.guide", Stage::hold);
}

std::vector<Doubt> repeated_seats(const Job& job, const std::string& head) {
    return repeated<SeatBefore>(job.readings.seats, head, of_seat, "reading.seat", Stage::shape);
}

}  // namespace seatwright::job
