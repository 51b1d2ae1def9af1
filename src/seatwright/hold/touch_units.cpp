#include "seatwright/hold/touch_units.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "seatwright/job/of_head.hpp"
#include "seatwright/job/ranges.hpp"
#include "seatwright/words/english_hold.hpp"

namespace seatwright::hold {

namespace {

std::optional<Vec2> expected_at(const job::Job& job, const std::vector<Setup>& setups,
                                const std::string& valve) {
    const auto index = job.head.index_of(valve);
    if (!index) return std::nullopt;
    for (const auto& setup : setups)
        for (const auto& held : setup.valves)
            if (held.valve == *index) return held.readout;
    return std::nullopt;
}

}  // namespace

std::vector<job::Doubt> touches_in_other_unit(const job::Job& job, const std::vector<Setup>& setups,
                                              const std::string& head) {
    const LengthUnit file = job.figures.file_units;
    const bool inch = file == LengthUnit::inch;
    const double to_other = inch ? 1 / mm_per_inch : mm_per_inch;
    std::vector<job::Doubt> out;
    for (const auto& touch : job::of_head(job.readings.touches, head)) {
        if (touch.sure) continue;
        const auto at = expected_at(job, setups, touch.valve);
        if (!at) continue;
        for (const int axis : {0, 1}) {
            const double read = touch.at[axis], wanted = (*at)[axis];
            if (std::abs(read - wanted) <= far_off || std::abs(read * to_other - wanted) > near_by) continue;
            const std::string key =
                fmt::format("reading.touch.{}.{}.{}", touch.head, touch.valve, axis == 0 ? "x" : "y");
            if (job::is_sure(job, key, read, job::Dimension::length)) continue;
            const auto words = [](double mm) { return job::as_typed(mm, job::Dimension::length); };
            out.push_back(
                {job::Stage::hold, job::Cost::reading, key, words(read),
                 sentence<"touch-unit">(
                     "valve"_is = touch.valve, "head"_is = touch.head, "axis"_is = axis == 0 ? "x" : "y",
                     "read"_is = words(read), "map"_is = words(wanted),
                     "bare"_is = as_digits(job::to_bare(read, job::Dimension::length, file), 10),
                     "unit"_is = inch ? "mm" : "in"),
                 touch.valve, touch.head, true});
            break;
        }
    }
    return out;
}

}  // namespace seatwright::hold
