// Any bytes as a job file (and, after a line "%%shop", a shop file): either a job that keeps its promises or
// a list of faults, never a crash.
#include <cmath>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>

#include "seatwright/job/needs.hpp"
#include "seatwright/job/quantity.hpp"
#include "seatwright/job/reader.hpp"

namespace {

using namespace seatwright;

void check_faults(const Faults& faults) {
    require(!faults.empty(), "a job is refused for a reason");
    for (const auto& fault : faults)
        require(!to_line(fault).empty() && fault.line >= 0, "a fault says something");
}

void check_job(const job::Job& job) {
    require(!job.head.valves.empty() && job.head.valves.size() <= job::max_valves, "1 to 128 valves");
    std::set<std::string> ids;
    double last = -1e300;
    for (const auto& v : job.head.valves) {
        require(ids.insert(v.id).second, "ids are unique");
        require(v.seat.allFinite() && std::isfinite(v.incline) && std::isfinite(v.cant), "valves are finite");
        require(std::abs(v.incline) < rad(80) && std::abs(v.cant) < rad(80), "leans are below 80 deg");
        require(v.seat.x() >= last - 1e-3, "head order");
        last = v.seat.x();
    }
    if (job.head.datum) require(job.head.index_of(*job.head.datum).has_value(), "the datum is a valve");
    if (job.head.posts)
        for (const auto p : *job.head.posts) require(p < job.head.bolt_holes.size(), "posts stand in holes");
    for (const auto& r : job.readings.proofs) {
        require(r.trace.empty() || r.trace.size() >= 8, "traces of 8 or more");
        require(r.angles.empty() || r.angles.size() == r.trace.size(), "an angle a reading");
    }
    for (const auto stage :
         {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut, job::Stage::prove})
        for (const auto& fault : job::needs(job, stage))
            require(!fault.text.empty(), "a need says something");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view all(reinterpret_cast<const char*>(data), size);
    const auto cut = all.find("\n%%shop\n");
    const std::string_view text = all.substr(0, cut);
    const std::string shop(cut == std::string_view::npos ? std::string_view{} : all.substr(cut + 8));
    const auto fetch = [&](const std::string&) -> tl::expected<std::string, std::string> { return shop; };
    const auto job = job::read_job(text, "job.toml", fetch);
    if (job) {
        check_job(*job);
    } else {
        check_faults(job.error());
    }
    // Short inputs are also what somebody types into a field.
    if (size <= 64)
        for (int d = 0; d <= static_cast<int>(job::Dimension::number); ++d) {
            const auto value = job::parse_quantity(all, static_cast<job::Dimension>(d), LengthUnit::inch);
            require(value ? std::isfinite(*value) : !value.error().empty(), "a number or a sentence");
        }
    return 0;
}
