#include "seatwright/prove/account.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::prove {

namespace {

// `own` with what it leaves out taken from `other`.
Account completed(const Account& own, const Account& other) {
    const bool same_person = own.by.empty() || own.by == other.by;
    const bool same_u = !own.gauge_u || own.gauge_u == other.gauge_u;
    const bool unsaid = own.gauge.empty() && !own.gauges.any();
    const bool same_gauge = same_u && (unsaid || (own.gauge == other.gauge && own.gauges == other.gauges));
    Account out = own;
    if (own.by.empty()) out.by = other.by;
    if (own.date.empty() && same_person) out.date = other.date;
    if (unsaid && same_gauge) {
        out.gauge = other.gauge;
        out.gauges = other.gauges;
    }
    if (own.calibrated.empty() && same_gauge) out.calibrated = other.calibrated;
    if (!own.resolution && same_u) out.resolution = other.resolution;
    if (!own.gauge_u) out.gauge_u = other.gauge_u;
    return out;
}

// "bench 1", or "runout bench 1, width lens 2".
std::string gauges_in_words(const Account& account) {
    if (!account.gauges.any()) return account.gauge;
    std::string out;
    for (const auto& [what, name] :
         {std::pair{"runout", &account.gauges.runout}, std::pair{"width", &account.gauges.width},
          std::pair{"stem height", &account.gauges.stem_height}})
        if (!name->empty()) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", what, *name);
    return out;
}

std::vector<std::string> carried_by(const job::SeatAfter& r) {
    std::vector<std::string> out;
    if (!r.trace.empty() || r.runout) out.emplace_back("runout");
    if (!r.width.empty()) out.emplace_back("width");
    if (r.stem_height) out.emplace_back("stem height");
    if (r.vacuum) out.emplace_back("vacuum");
    return out;
}

}  // namespace

std::vector<Account> accounts_of(const std::vector<const job::SeatAfter*>& readings) {
    std::vector<Account> out;
    out.reserve(readings.size());
    for (const auto* r : readings) {
        out.push_back({r->by, r->date, r->gauge, r->calibrated, r->gauge_u, r->resolution, r->gauges});
        if (out.size() > 1) out.back() = completed(out.back(), out[out.size() - 2]);
    }
    for (std::size_t i = out.size(); i-- > 1;) out[i - 1] = completed(out[i - 1], out[i]);
    return out;
}

Sessions sessions_of(const std::vector<const job::SeatAfter*>& readings,
                     const std::vector<Account>& accounts) {
    Sessions out;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        out.of_reading.emplace_back();
        const auto carried = carried_by(*readings[i]);
        if (carried.empty()) continue;
        const Account& a = accounts[i];
        const std::string gauge = gauges_in_words(a);
        auto at = std::find_if(out.all.begin(), out.all.end(), [&](const Session& s) {
            return s.by == a.by && s.date == a.date && s.gauge == gauge && s.calibrated == a.calibrated;
        });
        if (at == out.all.end()) at = out.all.insert(at, {a.by, a.date, gauge, a.calibrated, {}});
        for (const auto& what : carried)
            if (std::find(at->what.begin(), at->what.end(), what) == at->what.end()) at->what.push_back(what);
        out.of_reading.back() = static_cast<std::size_t>(at - out.all.begin());
    }
    return out;
}

}  // namespace seatwright::prove
