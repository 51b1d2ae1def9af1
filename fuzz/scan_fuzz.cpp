// Any bytes as a measured surface of any format: either points that are places, from which a head comes whose
// figures are finite and whose job reads without faults, or one fault, never a crash.
#include <array>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "figures.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/read.hpp"
#include "seatwright/scan/scan.hpp"

using namespace seatwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    // The first byte says what the file is called, and what a person said beside it.
    constexpr std::array names{"a.stl", "a.ply", "a.obj", "a.xyz"};
    const unsigned told_by = data[0];
    const char* name = names[told_by % names.size()];
    scan::Told told;
    if ((told_by & 4) != 0) told.units = (told_by & 8) != 0 ? LengthUnit::inch : LengthUnit::mm;
    const std::string_view bytes(reinterpret_cast<const char*>(data) + 1, size - 1);
    const auto read = scan::read_points(bytes, name);
    if (!read) {
        require(!read.error().empty() && read.error().find('\n') == std::string::npos,
                "refused in one sentence");
        return 0;
    }
    require(
        !read->points.empty() && read->points.size() + read->not_numbers + read->repeated == read->in_file,
        "every point of the file is counted once");
    for (const auto& p : read->points)
        require(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z), "a point is a place");
    const auto found = scan::scan_of(*read, name, told);
    if (!found) {
        require(found.error().size() == 1, "a scan is refused for a reason");
        return 0;
    }
    for (const auto& v : found->valves)
        for (const auto* figure : {&v.x, &v.y, &v.z, &v.incline, &v.cant, &v.bore, &v.gauge})
            check_figure(*figure);
    for (const auto& h : found->holes)
        for (const auto* figure : {&h.x, &h.y, &h.diameter}) check_figure(*figure);
    if (const auto text = scan::job_text(*found))
        require(job::read_job(*text, "job.toml", {}).has_value(),
                "a job made of a scan reads without faults");
    return 0;
}
