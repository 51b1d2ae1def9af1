#include "seatwright/prove/gauges.hpp"
#include "seatwright/words/english_prove.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace seatwright::prove {
namespace {

constexpr std::array<const char*, 3> quantity_words{"runout", "width", "stem_height"};

const std::string& named(const Account& account, Quantity quantity) {
    if (!account.gauges.any()) return account.gauge;
    return quantity == Quantity::runout  ? account.gauges.runout
           : quantity == Quantity::width ? account.gauges.width
                                         : account.gauges.stem_height;
}

}  // namespace

const char* word(Quantity quantity) {
    return quantity_words[static_cast<std::size_t>(quantity)];
}

bool reads(const job::Gauge& gauge, Quantity quantity) {
    return gauge.reads.empty() ||
           std::find(gauge.reads.begin(), gauge.reads.end(), word(quantity)) != gauge.reads.end();
}

bool carries(const job::SeatAfter& reading, Quantity quantity) {
    return quantity == Quantity::runout  ? !reading.trace.empty() || reading.runout
           : quantity == Quantity::width ? !reading.width.empty()
                                         : reading.stem_height.has_value();
}

bool after(const std::string& date, const std::string& last_day) {
    constexpr std::size_t day = 10;
    return date.size() >= day && date[4] == '-' && date[7] == '-' && date.substr(0, day) > last_day;
}

const job::Gauge* shelf_gauge(const job::Job& job, const Account& account, Quantity quantity) {
    const std::string& name = named(account, quantity);
    if (name.empty()) return nullptr;
    const auto at = std::find_if(job.gauges.begin(), job.gauges.end(), [&](const job::Gauge& gauge) {
        return gauge.name == name && reads(gauge, quantity);
    });
    return at == job.gauges.end() ? nullptr : &*at;
}

StatedGauge stated_gauge(const job::Job& job, const Account& account, Quantity quantity) {
    const job::Gauge* gauge = shelf_gauge(job, account, quantity);
    return {gauge && gauge->u ? gauge->u : account.gauge_u,
            gauge && gauge->step ? gauge->step : account.resolution};
}

int figures_of(Quantity quantity) {
    return quantity == Quantity::runout ? 2 : 1;
}

std::optional<double> standard_u(const StatedGauge& gauge, Quantity quantity) {
    if (!gauge.u && !gauge.step) return std::nullopt;
    return std::hypot(gauge.u.value_or(0), gauge.step.value_or(0) * std::sqrt(figures_of(quantity) / 12.0));
}

Notices overdue_gauges(const job::Job& job) {
    Notices out;
    const bool dated = std::any_of(job.gauges.begin(), job.gauges.end(),
                                   [](const job::Gauge& gauge) { return !gauge.calibrated_until.empty(); });
    if (!dated) return out;
    std::map<const job::Gauge*, std::pair<std::string, int>> used;  // first date after, how many readings
    for (const auto& reading : job.readings.proofs) {
        const Account account{reading.by,      reading.date,       reading.gauge, reading.calibrated,
                              reading.gauge_u, reading.resolution, reading.gauges};
        for (const auto quantity : {Quantity::runout, Quantity::width, Quantity::stem_height}) {
            if (!carries(reading, quantity)) continue;
            const job::Gauge* gauge = shelf_gauge(job, account, quantity);
            if (!gauge || gauge->calibrated_until.empty() || !after(reading.date, gauge->calibrated_until))
                continue;
            auto& [first, count] = used[gauge];
            if (count++ == 0 || reading.date < first) first = reading.date;
        }
    }
    for (const auto& gauge : job.gauges)
        if (const auto at = used.find(&gauge); at != used.end())
            out.warnings.push_back(
                {"prove", "gauge-overdue", std::nullopt,
                 sentence<"gauge-overdue">("gauge"_is = gauge.name, "until"_is = gauge.calibrated_until,
                                           "first"_is = at->second.first, "figures"_is = at->second.second),
                 Severity::note});
    return out;
}

}  // namespace seatwright::prove
