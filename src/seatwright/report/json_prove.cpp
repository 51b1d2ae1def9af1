// prove as JSON: the contract's keys, and beside them what the pages and the certificate need.
#include <nlohmann/json.hpp>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {

namespace {

using Json = JsonText;

// Angles 0 ≤ deg < 360.
Json degrees(std::optional<double> rad) {
    return as_json(rad, 1 / rad_per_deg);
}

Json json_of_harmonics(const prove::SeatProof& seat) {
    Json out = Json::array();
    for (const auto& h : seat.harmonics)
        out.push_back({{"order", h.order},
                       {"amplitude_mm", as_json(h.amplitude)},
                       {"phase_deg", degrees(h.phase)},
                       {"maximum_deg", degrees(h.phase / h.order)},
                       {"amplitude_u_mm", as_json(h.amplitude_u)}});
    return out;
}

Json json_of_judgements(const prove::SeatProof& seat, const Speech& speech) {
    Json out = Json::array();
    for (const auto& j : seat.judgements) {
        Json budget = Json::array();
        for (const auto& line : j.budget)
            budget.push_back({{"what", line.what}, {"u", as_json(line.u)}, {"dof", as_json(line.dof)}});
        Json one = Json::object();
        one["what"] = j.what;
        one["value"] = as_json(j.value);
        one["limit_low"] = as_json(j.limit_low);
        one["limit_high"] = as_json(j.limit_high);
        one["u"] = as_json(j.u);
        one["verdict"] = prove::word(j.verdict);
        one["unit"] = j.what.starts_with("vacuum") ? "kPa" : "mm";
        one["limit_source"] = j.limit_source;
        one["caution"] = j.what.starts_with("vacuum") ? Json(in_words(vacuum_caution(), speech)) : Json();
        one["coverage"] = as_json(j.coverage);
        one["budget"] = std::move(budget);
        one["session"] = j.session ? Json(*j.session) : Json();
        one["decider"] = j.decider.empty() ? Json() : Json(in_words(j.decider, speech));
        out.push_back(std::move(one));
    }
    return out;
}

Json json_of_circles(const std::optional<numerics::ReferenceCircles>& circles) {
    if (!circles) return nullptr;
    const auto one = [](const numerics::ReferenceCircle& c) {
        return Json{{"radius_mm", as_json(c.radius)}, {"x_mm", as_json(c.x)}, {"y_mm", as_json(c.y)}};
    };
    return {{"ls", one(circles->ls)},
            {"mz", one(circles->mz)},
            {"mc", one(circles->mc)},
            {"mi", one(circles->mi)}};
}

Json json_of_causes(const prove::SeatProof& seat, const Speech& speech) {
    Json out = Json::array();
    for (const auto& c : seat.causes)
        out.push_back({{"what", c.what},
                       {"statement", in_words(c.statement, speech)},
                       {"share", as_json(c.share)},
                       {"sureness", in_words(c.sureness, speech)},
                       {"orders", c.orders},
                       {"frequency_hz", as_json(c.frequency)}});
    return out;
}

Json json_of_slip(const std::optional<prove::Slip>& slip) {
    if (!slip) return nullptr;
    return {{"reading", slip->at}, {"angle_deg", degrees(slip->angle)}, {"step_mm", as_json(slip->step)}};
}

Json json_of_sessions(const prove::SeatProof& seat) {
    Json out = Json::array();
    for (const auto& s : seat.sessions)
        out.push_back({{"what", s.what},
                       {"by", s.by},
                       {"date", s.date},
                       {"gauge", s.gauge},
                       {"calibrated", s.calibrated}});
    return out;
}

Json json_of_seat(const job::Job& job, const prove::SeatProof& seat, const Speech& speech) {
    Json roundness = nullptr;
    if (seat.roundness)
        roundness = {{"ls", as_json(seat.roundness->ls)},
                     {"mz", as_json(seat.roundness->mz)},
                     {"mc", as_json(seat.roundness->mc)},
                     {"mi", as_json(seat.roundness->mi)}};
    Json out = Json::object();
    out["head"] = seat.head;
    out["id"] = job.head.valves[seat.valve].id;
    out["tir_mm"] = as_json(seat.tir);
    out["eccentricity_mm"] = as_json(seat.eccentricity);
    out["eccentricity_deg"] = degrees(seat.eccentricity_direction);
    out["roundness_mm"] = std::move(roundness);
    out["harmonics_mm"] = json_of_harmonics(seat);
    out["width_mm"] = as_json(seat.width);
    out["stem_height_mm"] = as_json(seat.stem_height);
    out["verdicts"] = json_of_judgements(seat, speech);
    out["verdict"] = prove::word(seat.verdict);
    out["by"] = seat.by;
    out["date"] = seat.date;
    out["gauge"] = seat.gauge;
    out["calibrated"] = seat.calibrated;
    out["sessions"] = json_of_sessions(seat);
    out["accepted_by"] = seat.accepted_by;
    out["cutter"] = seat.cutter.empty() ? Json() : Json(seat.cutter);
    out["vacuum_kpa"] = as_json(seat.vacuum);
    out["leak_kpa_per_s"] = as_json(seat.leak_rate);
    out["noise_mm"] = as_json(seat.noise);
    out["widest_gap_deg"] = degrees(seat.widest_gap);
    out["slipped_zero"] = json_of_slip(seat.slip);
    out["circles"] = json_of_circles(seat.circles);
    out["causes"] = json_of_causes(seat, speech);
    return out;
}

Json list(const std::vector<double>& values) {
    Json out = Json::array();
    for (const double v : values) out.push_back(as_json(v));
    return out;
}

const char* chart_name(prove::Chart chart) {
    switch (chart) {
        case prove::Chart::individuals:
            return "individuals and moving range";
        case prove::Chart::mean_range:
            return "mean and range";
        case prove::Chart::mean_deviation:
            return "mean and standard deviation";
    }
    return "";
}

Json json_of_series(const prove::Series& s, Extent extent) {
    Json signals = Json::array();
    for (const auto& signal : s.signals) signals.push_back({{"head", signal.head}, {"rule", signal.rule}});
    Json out{{"what", s.what},
             {"kind", job::kind_word(s.kind)},
             {"n", s.n},
             {"mean", as_json(s.mean)},
             {"sigma", as_json(s.sigma)},
             {"cp", as_json(s.cp)},
             {"cpk", as_json(s.cpk)},
             {"cpk_low", as_json(s.cpk_low)},
             {"centre", as_json(s.centre)},
             {"lower", as_json(s.lower)},
             {"upper", as_json(s.upper)},
             {"signals", signals},
             {"drift_per_head", as_json(s.drift_per_head)},
             {"limit_at_head", as_json(s.limit_at_head)},
             {"cpk_high", as_json(s.cpk_high)},
             {"chart", chart_name(s.chart)},
             {"sigma_overall", as_json(s.sigma_overall)},
             {"ppk", as_json(s.ppk)},
             {"limit_low", as_json(s.limit_low)},
             {"limit_high", as_json(s.limit_high)},
             {"drift_p", as_json(s.drift_p)},
             {"tolerance_low", as_json(s.tolerance_low)},
             {"tolerance_high", as_json(s.tolerance_high)},
             {"spread_centre", as_json(s.spread_centre)},
             {"spread_lower", as_json(s.spread_lower)},
             {"spread_upper", as_json(s.spread_upper)}};
    if (extent == Extent::page) return out;
    out["heads"] = std::vector<std::string>(s.heads.begin(), s.heads.end());
    out["points"] = list(s.points);
    out["subgroup_sizes"] = s.subgroup_sizes;
    out["spreads"] = list(s.spreads);
    out["breaks"] = s.breaks;
    return out;
}

Json json_of_spreads(const job::Job& job, const std::vector<prove::StemSpread>& spreads) {
    Json out = Json::array();
    for (const auto& s : spreads)
        out.push_back({{"head", s.head},
                       {"kind", job::kind_word(s.kind)},
                       {"lowest", job.head.valves[s.lowest].id},
                       {"highest", job.head.valves[s.highest].id},
                       {"value", as_json(s.judgement.value)},
                       {"limit_high", as_json(s.judgement.limit_high)},
                       {"u", as_json(s.judgement.u)},
                       {"verdict", prove::word(s.judgement.verdict)}});
    return out;
}

Json json_of_not_judged(const std::vector<prove::NotJudged>& limits) {
    Json out = Json::array();
    for (const auto& l : limits)
        out.push_back({{"what", l.what}, {"kind", l.kind ? Json(job::kind_word(*l.kind)) : Json()}});
    return out;
}

Json json_of_sampling(const std::optional<prove::Sampling>& sampling, const Speech& speech) {
    if (!sampling) return nullptr;
    Json plans = Json::array();
    for (const auto& plan : sampling->plans)
        plans.push_back(
            {{"pass_rate", as_json(plan.pass_rate)}, {"needed", plan.needed}, {"more", plan.more}});
    return {{"measured", sampling->measured},
            {"passed", sampling->passed},
            {"confidence", as_json(sampling->confidence)},
            {"pass_rate_low", as_json(sampling->pass_rate_low)},
            {"plans", plans},
            {"words", in_words(sampling->words, speech)}};
}

}  // namespace

JsonMembers members_of(const job::Job& job, const prove::Proof& proof, const Speech& speech, Extent extent) {
    Json seats = Json::array(), batch = Json::array(), unmeasured = Json::array(), positions = Json::array(),
         components = Json::array();
    for (const auto& seat : proof.seats) seats.push_back(json_of_seat(job, seat, speech));
    for (const auto& series : proof.batch) batch.push_back(json_of_series(series, extent));
    for (const auto& u : proof.unmeasured)
        unmeasured.push_back({{"head", u.head}, {"id", job.head.valves[u.valve].id}});
    for (const auto& p : proof.positions)
        positions.push_back({{"what", p.what},
                             {"id", job.head.valves[p.valve].id},
                             {"n", p.n},
                             {"mean", as_json(p.mean)},
                             {"sd", as_json(p.sd)},
                             {"worst_in", p.worst_in}});
    for (const auto& c : proof.components)
        components.push_back({{"what", c.what},
                              {"kind", job::kind_word(c.kind)},
                              {"factor", c.factor},
                              {"sd", as_json(c.sd)},
                              {"share", as_json(c.share)},
                              {"remark", in_words(c.remark, speech)}});
    JsonMembers out;
    out["seats"] = std::move(seats);
    out["batch"] = std::move(batch);
    out["verdict"] = prove::word(proof.verdict);
    out["unmeasured"] = std::move(unmeasured);
    out["stem_spreads"] = json_of_spreads(job, proof.stem_spreads);
    out["not_judged"] = json_of_not_judged(proof.not_judged);
    out["positions"] = std::move(positions);
    out["components"] = std::move(components);
    out["sampling"] = json_of_sampling(proof.sampling, speech);
    out["calm_rpm"] = list(proof.calm_rpm);
    return out;
}

nlohmann::ordered_json json_of(const job::Job& job, const prove::Proof& proof, const Speech& speech,
                               Extent extent) {
    return json_of(members_of(job, proof, speech, extent));
}

}  // namespace seatwright::report
