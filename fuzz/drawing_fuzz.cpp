// Any bytes as a DXF drawing, text or binary: either a head whose figures are finite and whose job reads
// without faults, or one fault, never a crash.
#include <cstdint>
#include <string_view>

#include "figures.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/drawing/drawing.hpp"
#include "seatwright/drawing/job_text.hpp"
#include "seatwright/job/reader.hpp"

using namespace seatwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    // The first byte says what a person said beside it.
    const unsigned told_by = data[0];
    drawing::Told told;
    if ((told_by & 1) != 0) told.units = (told_by & 2) != 0 ? LengthUnit::inch : LengthUnit::mm;
    told.from_above = (told_by & 4) != 0;
    told.end_for_end = (told_by & 8) != 0;
    const auto found =
        drawing::drawing_of({reinterpret_cast<const char*>(data) + 1, size - 1}, "deck.dxf", told);
    if (!found) {
        require(!found.error().empty(), "a drawing is refused for a reason");
        for (const auto& fault : found.error()) require(!to_line(fault).empty(), "a fault says something");
        return 0;
    }
    require(!found->valves.empty(), "a head has a valve");
    for (const auto& v : found->valves)
        for (const auto* figure : {&v.x, &v.y, &v.z, &v.incline, &v.cant}) check_figure(*figure);
    for (const auto& h : found->holes)
        for (const auto* figure : {&h.x, &h.y}) check_figure(*figure);
    const auto job = job::read_job(drawing::job_text(*found), "job.toml", {});
    require(job.has_value(), "a job made of a drawing reads without faults");
    return 0;
}
