#include "seatwright/report/results_csv.hpp"
#include "seatwright/job/kind_word.hpp"

#include <fmt/format.h>

namespace seatwright::report {

namespace {

// Quoted where RFC 4180 asks for it. A text that a spreadsheet would run as a formula gets an apostrophe in
// front.
std::string field(std::string words) {
    if (!words.empty() && std::string_view("=+-@\t\r").find(words.front()) != std::string_view::npos)
        words.insert(0, "'");
    if (words.find_first_of(",\"\r\n") == std::string::npos) return words;
    std::string out = "\"";
    for (const char c : words) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string figure(std::optional<double> value) {
    return value ? fmt::format("{:.6g}", *value) : "";
}

// Enough digits that no length loses a nanometre.
std::string size(std::optional<double> value) {
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
            return fmt::format("{},{},{},{},{}", field(of.by), field(of.date), field(of.gauge),
                               field(of.calibrated), field(seat.accepted_by));
        };
        const std::string where = fmt::format("{},{},{}", field(seat.head),
                                              field(job.head.valves[seat.valve].id), kind(seat.valve));
        for (const auto& j : seat.judgements)
            out += fmt::format("{},{},{},{},{},{},{},{},{},{},{}\r\n", where, field(j.what), size(j.value),
                               j.what.starts_with("vacuum") ? "kPa" : "mm", size(j.u),
                               j.u ? figure(j.coverage) : "", size(j.limit_low), size(j.limit_high),
                               field(j.limit_source), prove::word(j.verdict), who(j.session));
        if (seat.eccentricity)
            out += fmt::format("{},eccentricity,{},mm,,,,,,,{}\r\n", where, size(seat.eccentricity),
                               who(seat.trace_session));
        if (seat.roundness)
            out += fmt::format("{},out-of-round minimum zone,{},mm,,,,,,,{}\r\n", where,
                               size(seat.roundness->mz), who(seat.trace_session));
    }
    for (const auto& u : proof.unmeasured)
        out += fmt::format("{},{},{},all,,,,,,,,not measured,,,,,\r\n", field(u.head),
                           field(job.head.valves[u.valve].id), kind(u.valve));
    return out;
}

}  // namespace seatwright::report
