#include "seatwright/report/results_csv.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/csv.hpp"

#include <fmt/format.h>

namespace seatwright::report {

namespace {

std::string figure(std::optional<double> value) {
    return value ? fmt::format("{:.6g}", *value) : "";
}

// Enough digits that no length loses a nanometre.
std::string size_cell(std::optional<double> value) {
    return value ? fmt::format("{:.6f}", *value) : "";
}

}  // namespace

std::string results_csv(const job::Job& job, const prove::Proof& proof) {
    std::string out =
        "head,valve,kind,characteristic,value,unit,expanded_uncertainty,coverage_factor,limit_low,limit_high,"
        "limit_source,verdict,measured_by,date,gauge,calibrated,accepted_by\r\n";
    const auto kind = [&](std::size_t v) { return job::kind_word(job.head.valves[v].kind); };
    for (const auto& seat : proof.seats) {
        // Who took the last reading of the characteristic; nobody where none was taken.
        const auto who = [&](std::optional<std::size_t> session) {
            const prove::Session of = session ? seat.sessions[*session] : prove::Session{};
            return fmt::format("{},{},{},{},{}", csv_cell(of.by), csv_cell(of.date), csv_cell(of.gauge),
                               csv_cell(of.calibrated), csv_cell(seat.accepted_by));
        };
        const std::string where = fmt::format("{},{},{}", csv_cell(seat.head),
                                              csv_cell(job.head.valves[seat.valve].id), kind(seat.valve));
        for (const auto& j : seat.judgements)
            out +=
                fmt::format("{},{},{},{},{},{},{},{},{},{},{}\r\n", where, csv_cell(j.what),
                            size_cell(j.value), j.what.starts_with("vacuum") ? "kPa" : "mm", size_cell(j.u),
                            j.u ? figure(j.coverage) : "", size_cell(j.limit_low), size_cell(j.limit_high),
                            csv_cell(j.limit_source), prove::word(j.verdict), who(j.session));
        if (seat.eccentricity)
            out += fmt::format("{},eccentricity,{},mm,,,,,,,{}\r\n", where, size_cell(seat.eccentricity),
                               who(seat.trace_session));
        if (seat.roundness)
            out += fmt::format("{},out-of-round minimum zone,{},mm,,,,,,,{}\r\n", where,
                               size_cell(seat.roundness->mz), who(seat.trace_session));
    }
    for (const auto& of : proof.stem_spreads) {
        const prove::Judgement& j = of.judgement;
        out += fmt::format("{},{} {},{},{},{},mm,{},{},{},{},{},{},,,,,\r\n", csv_cell(of.head),
                           csv_cell(job.head.valves[of.lowest].id), csv_cell(job.head.valves[of.highest].id),
                           job::kind_word(of.kind), csv_cell(j.what), size_cell(j.value), size_cell(j.u),
                           j.u ? figure(j.coverage) : "", size_cell(j.limit_low), size_cell(j.limit_high),
                           csv_cell(j.limit_source), prove::word(j.verdict));
    }
    for (const auto& u : proof.unmeasured)
        out += fmt::format("{},{},{},all,,,,,,,,not measured,,,,,\r\n", csv_cell(u.head),
                           csv_cell(job.head.valves[u.valve].id), kind(u.valve));
    return out;
}

}  // namespace seatwright::report
