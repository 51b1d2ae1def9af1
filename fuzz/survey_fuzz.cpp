// Any bytes as a file of survey readings: either a head whose figures are finite and whose job reads without
// faults, or a list of faults, never a crash.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/survey/job_text.hpp"
#include "seatwright/survey/read.hpp"
#include "seatwright/survey/survey.hpp"

namespace {

using namespace seatwright;

void check_faults(const Faults& faults) {
    require(!faults.empty(), "readings are refused for a reason");
    for (const auto& fault : faults)
        require(!to_line(fault).empty() && fault.line >= 0, "a fault says something");
}

void check_figure(const survey::Figure& figure) {
    require(std::isfinite(figure.u) && figure.u >= 0, "an uncertainty is one");
    if (figure.value) require(std::isfinite(*figure.value), "a figure is finite");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto readings = survey::read_readings(text, "readings.toml");
    if (!readings) {
        check_faults(readings.error());
        return 0;
    }
    const auto found = survey::survey(*readings);
    if (!found) {
        check_faults(found.error());
        return 0;
    }
    for (const auto& v : found->valves)
        for (const auto* figure : {&v.x, &v.y, &v.z, &v.incline, &v.cant}) check_figure(*figure);
    for (const auto& hole : found->holes)
        for (const auto* figure : {&hole.x, &hole.y}) check_figure(*figure);
    if (const auto job = survey::job_text(*found); job && readings->shop.empty() && readings->fixture.empty())
        require(job::read_job(*job, "job.toml", {}).has_value(), "a surveyed job reads without faults");
    return 0;
}
